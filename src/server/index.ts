export { PORT, type Serving, serve } from './serve.ts';
export type { PhotoTiles, Reports, Served } from './served.ts';
