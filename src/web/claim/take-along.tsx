import { Section } from '../look/parts.tsx';
import { addressOf } from '../server/ask.ts';

/** The whole study as one file that outlives this program. */
export function TakeAlong({ study }: { study: string }) {
  return (
    <Section
      title="Take it with you"
      id="take"
      lead="The whole study in one archive: records as tables that any spreadsheet opens, photographs to the byte, outlines, who did what and when. Anybody can read it without this program; this program brings it back with the same claim."
    >
      <p>
        <a className="button" href={addressOf('packStudy', { study })} download>
          Pack the study (zip)
        </a>
      </p>
    </Section>
  );
}
