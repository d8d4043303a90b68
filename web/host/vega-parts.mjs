// The parts of Vega that the charts use. Taking the whole package brings maps, force layouts, trees,
// word clouds and more: a sixth of what a visit to a chart would load.

import { transforms } from 'vega-dataflow';
import * as encode from 'vega-encode';
import * as rows from 'vega-transforms';
import { extend } from 'vega-util';
import * as marks from 'vega-view-transforms';

extend(transforms, rows, marks, encode);

export { loader } from 'vega-loader';
export { parse } from 'vega-parser';
export * from 'vega-util';
export { View } from 'vega-view';
