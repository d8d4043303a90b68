// What of Vega and Vega-Lite no chart of this page asks for, by package and by the name it has there.
// `vega-parts.mjs` takes it out of the build. A name that a package no longer has stops the build;
// `test/web/host/vega-parts.test.ts` compiles every kind of chart with and without it.

const words = (/** @type {string} */ text) => text.trim().split(/\s+/u);

/**
 * Packages of which nothing is used: maps, files in other formats, colour schemes, easing, statistics
 * of their own, choosing marks by hand on a
 * picture and the language of events that this is said in, clocks, and trees of programs.
 */
export const LEFT_OUT_PACKAGES = words(`
  d3-dsv d3-ease d3-geo d3-scale-chromatic d3-timer topojson-client
  vega-event-selector vega-selections vega-statistics @lezer/common
`);

/**
 * Functions, classes, methods and tables of functions, by the package they are in.
 *
 * @type {Readonly<Record<string, readonly string[]>>}
 */
export const LEFT_OUT = {
  // Marks made of several, small multiples, maps, choosing by hand, legends, bins, dates as fields, and
  // transforms: the rows of a panel have all of that behind them.
  'vega-lite': words(`
    AggregateNode.assemble AggregateNode.makeFromTransform AggregateNode.producedFields
    BinNode.assemble BinNode.merge ConcatModel CoreNormalizer.getFacetMappingAndLayout
    CoreNormalizer.mapFacet CoreNormalizer.mapFacetedUnit CoreNormalizer.mapLayerRepeat
    CoreNormalizer.mapNonLayerRepeat CoreNormalizer.mapUnitWithParentEncodingOrProjection
    DensityTransformNode ExtentTransformNode FacetModel FacetNode FlattenTransformNode
    FoldTransformNode GeoJSONNode.assemble GraticuleNode ImputeNode.assemble
    JoinAggregateTransformNode LoessTransformNode LookupNode Model.assembleLayout
    Model.getSelectionComponent OutputNode.clone PivotTransformNode ProjectionComponent
    QuantileTransformNode RegressionTransformNode SampleTransformNode SequenceNode
    SpecMapper.mapFacet Split.copyKeyFromSplit StackNode.makeFromTransform TimeUnitNode.assemble
    TimeUnitNode.makeFromTransform TimeUnitNode.merge TimeUnitNode.removeFormulas
    WindowTransformNode addDimension arc assembleFacetSignals assembleHeaderGroup
    assembleHeaderProperties assembleInit assembleLabelTitle assembleLayoutTitleBand
    assembleSelectionScaleDomain assembleTitleGroup autoMaxBins binFormatExpression
    binRequiresRange boxParams boxParamsQuartiles canUseUnaggregatedDomain channelSignals clear
    compositeMarkContinuousAxis compositeMarkOrient containsTimeUnit createBinComponent
    dateTimeParts defaultContinuousToDiscreteCount defaultGradientLength defaultHeaderGuideAlign
    defaultSymbolType disableDirectManipulation durationExpr errorBarAggregationAndCalculation
    errorBarIsInputTypeRaw errorBarOrientAndInputType errorBarParams extractCompositionLayout
    extractTransformsFromEncoding fieldDefs filterAggregateFromChannelDef
    filterTooltipWithAggregatedField formatCustomType formatExpression functionalTitleFormatter
    gatherFitData geoshape getBinSpacing getBinStepSignal getBoxPlotType getCompositeMarkTooltip
    getDateTimePartAndStep getFieldFromDomain getGroupsForStackedBarWithCornerRadius
    getHeaderProperties getSort$1 gradient image initDatumDef inputBindings interpolateRange
    interpolatedSignalRef interval isEqual labels$1 legendBindings legendRules
    makeCompositeAggregatePartFactory makeJoinAggregateFromFacet mergeMeasures mergeTitle
    moveMainDownToFacet nearest normalizeBin normalizeBoxPlot normalizeDay normalizeErrorBand
    normalizeErrorBar normalizeMonth normalizeQuarter normalizeSortField offsetExpr
    offsetedRectFormulas onDelta onDelta$1 parseConcatLayoutSize parseFacetHeader
    parseSelectionExtent parseSelectionPredicate partLayerMixins point$1 prefixGenerator project
    colorSignalConfig fontSizeSignalConfig cloneSubtree fieldExpr normalizeBinExtent
    dateTimeExprToExpr dateTimeToExpr SpecMapper.mapConcat CoreNormalizer.mapRepeat
    ImputeNode.processSequence BinNode.makeFromTransform GeoJSONNode.dependentFields setLegendEncode
    projectionOverridden lineWithRange getDirection defaultDirection
    rangeFormula rectBinPosition rectBinRef refForInvalidValues replaceRepeatInProp
    replaceRepeaterInChannelDef replaceRepeaterInFieldDef replaceRepeaterInFieldOrDatumDef
    replaceRepeaterInMapping scaleBindings selectedCondition sizeExpr sizeRangeMax sizeRangeMin
    symbols tick timeFormat timeFormatExpression timeUnitToString toggle tooltipData
    tooltipRefForEncoding trail translate verbalTitleFormatter zoom
  `),
  // Drawing on a canvas: charts are SVG, and a saved PNG is made of that.
  'vega-scenegraph': words(`
    CanvasRenderer HybridRenderer SVGStringRenderer CanvasHandler.fire CanvasHandler.initialize
    pathRender segments bezier parse pick pickArea pickLine pickTrail pickVisit hit draw draw$1
    draw$3 draw$4 stroke gradient drawArc drawPath intersectBoxLine intersectGroup intersectMark
    intersectText axisCaption legendCaption
  `),
  // Legends, titles, maps, signals that follow events.
  'vega-parser': words(`
    parseUpdate streamParameters parseSubParameter parseSubParameters parseTrigger eventStream ifEnc
    filterMark parseStream streamSource mergeStream nestedStream mergeSources eventSource
    quantileMultipleDomain gradient color
    legendSymbolGroups parseLegend legendGradientLabels legendTitle legendGradientDiscrete
    legendGradient buildTitle buildSubTitle parseTitle parseProjection buildLegendEncode
  `),
  // Fields of a form beside the picture, and pictures of another kind.
  'vega-view': words(`
    bind range radio select checkbox form generate hover renderToImageURL renderToCanvas
  `),
  'vega-view-transforms': words(`
    gridLayout titleLayout trellisLayout legendParams layoutHeaders legendGroupLayout
    gridLayoutGroups legendLayout legendBounds layoutTitle legendTitleOffset legendEntryLayout
  `),
  // Patterns, and signs written as numbers: a formula of a chart is the page's own.
  'vega-expression': words(`
    getEscapedIdentifier scanRegExpBody scanUnicodeCodePointEscape testRegExp scanHexLiteral
    scanRegExpFlags scanOctalLiteral scanRegExp
  `),
  // Rows are handed over as they are; nothing is fetched and nothing read.
  'vega-loader': words(`
    sanitize parse topojson inferType inferTypes read httpLoader json dsv formats load parseJSON
    isBuffer responseType
  `),
  'vega-dataflow': words('events request preload loadPending ingest parse'),
  'vega-time': words('timeUnits timeUnitSpecifier'),
  'vega-format': words('timeMultiFormat'),
  // What an expression may call; those of the page are in `web/chart/chart-expression.ts`.
  'vega-functions': words(`
    indataVisitor dataVisitor setdata indata pluck geoTranslate geoScale modify scaleGradient intersectLasso pointInPolygon interpolateLinear lassoAppend lassoPath
    geoShape pathShape treePath treeAncestors luminance contrast pinchDistance pinchAngle intersect
  `),
  // Code made from text, which the policy of the page forbids.
  'vega-runtime': words('expressionCodegen parseStream parseUpdate getState setState'),
  'vega-scale': words(`
    domainCaption tickLog scaleBinOrdinal invertRangeExtent thresholdFormat thresholdValues
  `),
  'vega-encode': words(`
    configureScheme configureRangeStep stackNormalize stackCenter LegendEntries LinkPath Pie
  `),
  'vega-transforms': words(`
    Bin CountPattern Cross Density DotBin Expression Flatten Fold Generate Impute JoinAggregate KDE
    Load Lookup Pivot Project Quantile Sample Sequence TimeUnit Window WindowState WindowOp
  `),
  // What a programming language's grammar would be asked; a formula's is the engine's.
  '@codemirror/autocomplete': words('CompletionContext.tokenBefore'),
  '@codemirror/commands': words('insertNewlineAndIndent'),
  'd3-scale': words(`
    log symlog pow sqrt radial time utcTime quantile quantize threshold sequentialLog
    sequentialSymlog sequentialPow sequentialSqrt diverging divergingLog divergingSymlog
    divergingPow divergingSqrt identity
  `),
  'd3-shape': words(`
    Bump Bundle Cardinal CardinalClosed CardinalOpen CatmullRom CatmullRomClosed CatmullRomOpen
    MonotoneX MonotoneY Natural Basis BasisClosed BasisOpen LinearClosed
    bundle cardinal cardinalClosed cardinalOpen catmullRom catmullRomClosed catmullRomOpen
    ReflectContext
  `),
  'd3-interpolate': words(`
    rgbBasis rgbBasisClosed hsl_default hslLong hcl_default hclLong cubehelix_default cubehelixLong
    interpolateTransformCss interpolateTransformSvg zoom lab date string basis basisClosed
    genericArray object numberArray quantize discrete hue exponential
  `),
  // Dates are written, never read.
  'd3-time-format': words(`
    parseZone parseYear parseMicroseconds parseWeekdayNumberSunday parseWeekdayNumberMonday
    parseDayOfYear parseWeekNumberSunday parseWeekNumberMonday parseQuarter parseMonthNumber
    parseWeekNumberISO parseUnixTimestampSeconds parseMilliseconds parseDayOfMonth parseFullYear
    parseMinutes parseSeconds parseHour24 parseUnixTimestamp parseLiteralPercent localDate utcDate
    newDate
  `),
  // Colours are written as red, green and blue.
  'd3-color': words(`
    hslConvert labConvert cubehelixConvert hclConvert hcl2lab hsl2rgb lab hcl cubehelix hsl hsla
  `),
};
