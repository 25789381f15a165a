import { Section } from '../look/parts.tsx';
import { addressOf } from '../server/ask.ts';

/** The report: one file for somebody who was not there. */
export function ReportAlong({ study }: { study: string }) {
  const address = addressOf('report', { study });
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
        </a>
      </p>
      <p className="fine">
        For PDF print the HTML, or at the terminal: <code>retentate report FOLDER --out report.pdf</code>; a
        name without ending gives the records as tables.
      </p>
    </Section>
  );
}
