export { PORT, type Serving, serve } from './serve.ts';
export type { PhotoTiles, Served } from './served.ts';
