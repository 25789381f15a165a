export * from './charts/index.ts';
