import { ofStudy, route } from '../route.ts';
import { SearchJson, SearchWish } from '../search-settings.ts';

export const SEARCH_ROUTES = {
  search: route({
    method: 'get',
    path: '/api/studies/{study}/search',
    does: 'How the photos of a study are searched, and how many were searched otherwise.',
    params: ofStudy,
    answer: SearchJson,
  }),
  setSearch: route({
    method: 'put',
    path: '/api/studies/{study}/search',
    does: 'Say how photos are searched from now on.',
    params: ofStudy,
    body: SearchWish,
    answer: SearchJson,
  }),
  searchAnew: route({
    method: 'post',
    path: '/api/studies/{study}/search',
    does: 'Search the photos anew that were searched otherwise; decisions go over to the same pieces, earlier findings stay on record.',
    params: ofStudy,
    answer: SearchJson,
  }),
} as const;
