export { PORT, type Serving, serve } from './serve.ts';
export type { Archives, PhotoTiles, Reports, Served } from './served.ts';
