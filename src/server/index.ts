export { PORT, type Serving, serve } from './serve.ts';
export type { Archives, PhotoTiles, Planner, Reports, Served } from './served.ts';
