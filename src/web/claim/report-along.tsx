import { useQuery } from '@tanstack/react-query';
import { Section } from '../look/parts.tsx';
import { addressOf } from '../server/ask.ts';
import { laboratoryQuery } from '../server/queries.ts';

/** The report: one file for somebody who was not there. */
export function ReportAlong({ study }: { study: string }) {
  const address = addressOf('report', { study });
  const prints = useQuery(laboratoryQuery).data?.prints;
  return (
    <Section
      title="Report"
      id="report"
      lead="One file that opens anywhere without a network and prints well: the claim, runs against background, filters, pieces with scale bars, controls, deviations, methods with sources, checklist. Its reader can class pieces otherwise and see the number move."
    >
      <p className="sheet-deeds">
        <a className="button primary" href={address} download>
          Save the report (HTML)
        </a>{' '}
        <a className="button" href={`${address}?as=md`} download>
          As Markdown
        </a>{' '}
        {prints ? (
          <a className="button" href={`${address}?as=pdf`} download>
            As PDF
          </a>
        ) : null}{' '}
        <a className="button" href={`${address}?as=tables`} download>
          Tables (CSV)
        </a>
      </p>
      {prints === false ? (
        <p className="fine">
          The serving machine has no Chromium to make a PDF with: save the HTML and print that, or install one
          (or set CHROME_PATH) and start again.
        </p>
      ) : null}
    </Section>
  );
}
