import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { lengthWords, many, momentWords } from '../look/words.ts';
import { COLOUR_NAMES, SHAPE_NAMES } from './names.ts';
import { ParticlePicture } from './particle-picture.tsx';
import type { Deciding } from './use-deciding.ts';

const DECIDED = { kept: 'kept', dropped: 'dropped', undecided: 'undecided, counts as found' } as const;

/** What is known of the chosen particle, and the decisions on it. */
export function ChosenParticle({
  study,
  photo,
  particle,
  place,
  more,
  onKeep,
  onDrop,
  onUndo,
  onStep,
  onRename,
}: {
  study: string;
  photo: PhotoJson;
  particle: MarkedParticleJson | null;
  place: string | null;
  /** How many are chosen with it; decisions and names go to all. */
  more: number;
  onRename: Deciding['rename'];
  onKeep: () => void;
  onDrop: () => void;
  onUndo: () => void;
  onStep: (by: number) => void;
}) {
  return (
    <aside className="chosen" aria-label="Chosen particle">
      {particle === null ? (
        <p className="chosen-none">
          Choose a particle: click or tap an outline or a picture below
          <span className="with-keys">
            , or press <kbd>→</kbd>
          </span>
          . Then keep what belongs to the count and drop what does not.
        </p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls where the screen is low, and the keyboard must reach that.
        <div className="chosen-facts" aria-live="polite" tabIndex={0}>
          <ParticlePicture photo={photo} particle={particle} side={172} />
          <h2>
            Particle {particle.number}
            <small>{more === 0 ? place : `and ${many(more, 'other')}`}</small>
          </h2>
          {particle.counts_on === null ? (
            <p className={`decision is-${particle.decision}`}>{DECIDED[particle.decision]}</p>
          ) : (
            <p className="decision is-again">
              <a
                href={pathTo({ page: 'photo', study, filter: photo.filter, photo: particle.counts_on.photo })}
              >
                counts as particle {particle.counts_on.number} of an overlapping photograph
              </a>
            </p>
          )}
          {particle.disagree.length > 0 ? (
            <div className="disagree">
              <p>
                <strong>People differ.</strong> The last stands; all marks stay on record.
              </p>
              <ul>
                {particle.disagree.map(({ by, decision, at }) => (
                  <li key={by}>
                    {decision} by {by}, {momentWords(at)}
                  </li>
                ))}
              </ul>
            </div>
          ) : null}
          <dl className="plain-facts">
            <div>
              <dt>
                <label htmlFor="shape-of">Shape</label>
              </dt>
              <dd>
                <select
                  id="shape-of"
                  value={particle.shape}
                  onChange={(event) => onRename({ shape: event.target.value as typeof particle.shape })}
                >
                  {SHAPE_NAMES.map((one) => (
                    <option key={one}>{one}</option>
                  ))}
                </select>
              </dd>
            </div>
            <div>
              <dt>
                <label htmlFor="colour-of">Colour</label>
              </dt>
              <dd>
                <select
                  id="colour-of"
                  value={particle.colour}
                  onChange={(event) => onRename({ colour: event.target.value as typeof particle.colour })}
                >
                  {COLOUR_NAMES.map((one) => (
                    <option key={one}>{one}</option>
                  ))}
                </select>
              </dd>
            </div>
            <div>
              <dt>Feret diameters</dt>
              <dd>{feret(particle)}</dd>
            </div>
            {particle.fibre_length_um !== null ? (
              <div>
                <dt>Fibre length</dt>
                <dd>{lengthWords(particle.fibre_length_um)}</dd>
              </div>
            ) : null}
            <div>
              <dt>Chance to be real</dt>
              <dd>{percent(particle.certainty)}</dd>
            </div>
            <div>
              <dt>Printed square</dt>
              <dd>
                {particle.square === null
                  ? 'none'
                  : `column ${particle.square[0] + 1}, row ${particle.square[1] + 1}`}
              </dd>
            </div>
          </dl>
          <p className="fine">{particle.shape_because}</p>
          <p>
            <a href={pathTo({ page: 'evidence', study, item: `piece-${particle.id}` })}>Test this piece</a>
          </p>
        </div>
      )}
      <fieldset className="deeds">
        <legend className="unseen">Decide</legend>
        {/* on a telephone the facts lie below the photograph: the bar says which piece it decides on */}
        <p className="deeds-on" aria-hidden="true">
          {particle === null
            ? 'Tap a piece on the photograph or in the row.'
            : `${particle.colour} ${particle.shape}, ${sizeOf(particle)}, ${particle.counts_on === null ? particle.decision : 'counts elsewhere'}${more > 0 ? `, and ${many(more, 'other')}` : ''}`}
        </p>
        <button type="button" className="button keep" onClick={onKeep}>
          <Icon name="keep" /> Keep <kbd>K</kbd>
        </button>
        <button type="button" className="button drop" onClick={onDrop}>
          <Icon name="drop" /> Drop <kbd>D</kbd>
        </button>
        <button type="button" className="button quiet undo" onClick={onUndo}>
          <Icon name="undo" /> Undo <kbd>U</kbd>
        </button>
        <button
          type="button"
          className="button quiet"
          aria-label="Previous particle"
          onClick={() => onStep(-1)}
        >
          <Icon name="previous" />
        </button>
        <button type="button" className="button quiet" aria-label="Next particle" onClick={() => onStep(1)}>
          <Icon name="next" />
        </button>
      </fieldset>
    </aside>
  );
}

const sizeOf = ({ feret_max_um, feret_max_px }: MarkedParticleJson): string =>
  feret_max_um === null ? `${figure(Math.round(feret_max_px))} px` : lengthWords(feret_max_um);

/** Largest and smallest, in µm where the photo has a scale, else in pixels. */
function feret({ feret_max_um, feret_min_um, feret_max_px, feret_min_px }: MarkedParticleJson): string {
  return feret_max_um === null || feret_min_um === null
    ? `${figure(Math.round(feret_max_px))} × ${figure(Math.round(feret_min_px))} px`
    : `${lengthWords(feret_max_um)} × ${lengthWords(feret_min_um)}`;
}
