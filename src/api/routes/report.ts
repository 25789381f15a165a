import { z } from 'zod';
import { ofStudy, route } from '../route.ts';

export const REPORT_ROUTES = {
  report: route({
    method: 'get',
    path: '/api/studies/{study}/report',
    does: 'The report as one file: HTML that needs no network, Markdown, or the tables of its records as one JSON object of CSV texts.',
    params: ofStudy,
    query: z.object({ as: z.enum(['html', 'md', 'csv']).default('html') }),
    answer: 'application/octet-stream',
  }),
} as const;
