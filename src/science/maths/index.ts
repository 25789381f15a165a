export * from './chance.ts';
export * from './discrete.ts';
export * from './gamma.ts';
export * from './incomplete-beta.ts';
export * from './incomplete-gamma.ts';
export * from './normal.ts';
export * from './quadrature.ts';
export * from './root.ts';
