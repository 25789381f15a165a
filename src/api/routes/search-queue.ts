import { z } from 'zod';
import { ofStudy, route } from '../route.ts';

const Photos = z.object({ photos: z.int().min(0) }).meta({ id: 'PhotosOfQueue' });

/** What waits to be searched can be stopped, and taken up again. */
export const SEARCH_QUEUE_ROUTES = {
  stopSearch: route({
    method: 'post',
    path: '/api/studies/{study}/search/stop',
    does: 'Stop the search of the photos that were not begun; how many. They count as not searched.',
    params: ofStudy,
    answer: Photos,
  }),
  takeUpSearch: route({
    method: 'post',
    path: '/api/studies/{study}/search/take-up',
    does: 'Search the stopped photos after all; how many.',
    params: ofStudy,
    answer: Photos,
  }),
} as const;
