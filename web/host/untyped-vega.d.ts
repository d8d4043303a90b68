// The parts of Vega come without types; the page sees them through the types of the whole package.
declare module 'vega-dataflow';
declare module 'vega-encode';
declare module 'vega-loader';
declare module 'vega-parser';
declare module 'vega-transforms';
declare module 'vega-view';
declare module 'vega-view-transforms';
