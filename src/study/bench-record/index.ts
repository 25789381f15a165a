export * from './run-order.ts';
