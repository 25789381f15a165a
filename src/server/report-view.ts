/** The report of a study, to be saved: never shown by the server's own pages, whatever it holds. */
import type { Context } from 'hono';
import type { REPORT_ROUTES } from '../api/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import { savedAs } from './file-answer.ts';
import type { Served } from './served.ts';

export const reportDeeds = (served: Served): Readonly<Record<keyof typeof REPORT_ROUTES, Deed>> => ({
  report: async (c: Context) => {
    if (!served.reports) {
      return answered(c, {
        ok: false,
        refusal: {
          why: 'no-reports-here',
          message: 'Reports are written at the terminal here: retentate report FOLDER --out report.html.',
        },
      });
    }
    const made = await served.reports.report(
      part(c, 'study'),
      valid<{ as: 'html' | 'md' | 'csv' | 'pdf' | 'tables' }>(c, 'query').as,
    );
    if (!made.ok) return answered(c, made);
    return c.body(made.value.text as string | Uint8Array<ArrayBuffer>, 200, {
      'content-type': 'application/octet-stream',
      'content-disposition': savedAs(made.value.name),
    });
  },
});
