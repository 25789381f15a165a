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
      <p className="fine">
        While a round of scoring without knowing is sealed, its key, its seed and its readings stay here; the
        hash goes along, so that the key can be held against it later, and the round cannot be opened where
        the archive is brought in. To move such a study, open the round first or back up the whole laboratory
        (“retentate backup”).
      </p>
      <p>
        <a className="button" href={addressOf('packStudy', { study })} download>
          Pack the study (zip)
        </a>
      </p>
    </Section>
  );
}
