import { z } from 'zod';
import { ofStudy, route } from '../route.ts';

export const REPORT_ROUTES = {
  report: route({
    method: 'get',
    path: '/api/studies/{study}/report',
    does: 'The report as one file: HTML that needs no network, Markdown, PDF where the serving machine has a Chromium, or the tables of its records as CSV in a zip (tables) or as one JSON object of CSV texts (csv).',
    params: ofStudy,
    query: z.object({ as: z.enum(['html', 'md', 'csv', 'pdf', 'tables']).default('html') }),
    answer: 'application/octet-stream',
  }),
} as const;
