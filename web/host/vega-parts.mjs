// The parts of Vega that the charts use. Taking the whole package brings maps, force layouts, trees,
// word clouds and more. What these parts bring and no chart asks for is left out by `leave-out.mjs`.

import { transforms } from 'vega-dataflow';
import { axisticks, datajoin, encode, scale, sortitems, stack } from 'vega-encode';
import {
  aggregate,
  collect,
  compare,
  extent,
  facet,
  field,
  filter,
  formula,
  key,
  multiextent,
  multivalues,
  params,
  prefacet,
  proxy,
  relay,
  sieve,
  subflow,
  tupleindex,
  values,
} from 'vega-transforms';
import { extend } from 'vega-util';
import { bound, mark, overlap, render, viewlayout } from 'vega-view-transforms';

extend(
  transforms,
  { aggregate, collect, compare, extent, facet, field, filter, formula, key, multiextent },
  { multivalues, params, prefacet, proxy, relay, sieve, subflow, tupleindex, values },
  { bound, mark, overlap, render, viewlayout },
  { axisticks, datajoin, encode, scale, sortitems, stack },
);

export { loader } from 'vega-loader';
export { parse } from 'vega-parser';
export * from 'vega-util';
export { View } from 'vega-view';
