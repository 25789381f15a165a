export * from './coverage-band.ts';
export * from './figures.ts';
export * from './density-scale.ts';
export * from './filter-disc.ts';
export * from './flow-curve.ts';
export * from './net-interval.ts';
export * from './runs-against-background.ts';
export * from './settling-map.ts';
