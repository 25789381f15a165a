import { PublishedAnswer, PublishedMade, PublishedStandingWish, PublishedWish } from '../published.ts';
import { id, ofStudy, route } from '../route.ts';

export const PUBLISHED_ROUTES = {
  published: route({
    method: 'get',
    path: '/api/studies/{study}/published',
    does: 'Published values held against this study: whether they are comparable, and the ratio where they are.',
    params: ofStudy,
    answer: PublishedAnswer,
  }),
  writePublished: route({
    method: 'post',
    path: '/api/studies/{study}/published',
    does: 'Hold the study against a published value, or change what was said of one; earlier editions stay.',
    params: ofStudy,
    body: PublishedWish,
    answer: PublishedMade,
  }),
  setPublishedStanding: route({
    method: 'put',
    path: '/api/studies/{study}/published/{entry}',
    does: 'Take a comparison back, or put it back.',
    params: ofStudy.extend({ entry: id }),
    body: PublishedStandingWish,
    answer: PublishedMade,
  }),
} as const;
