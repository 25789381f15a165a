import { type QueryKey, useMutation, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { type BenchTest, outsideRange } from '../../bench/index.ts';
import { Icon } from '../look/icons.tsx';
import { lengthWords } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { addressOf, ask, read } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { workingHeader } from '../server/working.ts';
import { TestAnswers } from './test-answers.tsx';
import { Timer } from './test-timer.tsx';

interface TestPieceProps {
  readonly study: string;
  readonly test: BenchTest;
  readonly particle: MarkedParticleJson;
  /** Which piece it is among those that are tested, in words. */
  readonly called: string;
  /** What shows the piece: it is read anew when something was recorded. */
  readonly shownBy: QueryKey;
  readonly photo: PhotoJson | null;
  /** What the filter is made of that the piece was found on. */
  readonly material: string;
  /** True: on to the next piece; false: back to the list. */
  readonly onEnd: (further: boolean) => void;
}

async function keepPicture(particle: string, file: File): Promise<string> {
  const answer = await fetch(
    `${addressOf('addTestPicture', { particle })}?name=${encodeURIComponent(file.name || 'picture.jpg')}`,
    {
      method: 'PUT',
      headers: { ...workingHeader(), 'content-type': 'application/octet-stream' },
      body: file,
    },
  );
  return ((await read(answer)) as { id: string }).id;
}

/** One test on one piece, step after step, for a telephone at arm's length. */
export function TestPiece({
  study,
  test,
  particle,
  called,
  shownBy,
  photo,
  material,
  onEnd,
}: TestPieceProps) {
  const client = useQueryClient();
  const [at, setAt] = useState(0);
  const [setting, setSetting] = useState<string | null>(test.settings[0]?.value ?? null);
  const [pictures, setPictures] = useState<{ before: string | null; after: string | null }>({
    before: null,
    after: null,
  });
  const [without, setWithout] = useState(false);
  const [onGlass, setOnGlass] = useState(false);
  const top = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: every step begins at its top.
  useEffect(() => {
    top.current?.scrollIntoView();
  }, [at]);
  const step = test.steps[at];
  const answering = step === undefined;
  const outside = outsideRange(test, {
    feretMaxUm: particle.feret_max_um,
    shape: particle.shape,
    filterMaterial: onGlass ? null : material,
  });
  const keep = useMutation({
    mutationFn: async ({ file, when }: { file: File; when: 'before' | 'after' }) => ({
      when,
      id: await heard(keepPicture(particle.id, file)),
    }),
    onSuccess: ({ when, id }) => setPictures((known) => ({ ...known, [when]: id })),
  });
  const answer = useMutation({
    mutationFn: (value: string | number) =>
      heard(
        ask(
          'answerTest',
          { particle: particle.id },
          { test: test.id, value, setting, ...pictures, on_glass: onGlass },
        ),
      ),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: shownBy });
      void client.invalidateQueries({ queryKey: ['study', study] });
      onEnd(true);
    },
  });
  // Once there is no way back, the picture of how it was must exist, or somebody must say that it cannot.
  const needsPicture = step?.noWayBack === true && pictures.before === null && !without;
  return (
    <div className="test-piece" ref={top}>
      <header className="test-piece-head">
        <button type="button" className="button quiet" onClick={() => onEnd(false)}>
          <Icon name="back" size={20} /> Pieces
        </button>
        <span>
          {test.name}, {called}
        </span>
      </header>
      <div className="test-piece-what">
        {photo ? <ParticlePicture photo={photo} particle={particle} side={150} /> : null}
        <p>
          <strong>
            {particle.colour} {particle.shape}, {lengthWords(particle.feret_max_um)}
          </strong>
          <span>
            {photo?.name}, number {particle.number}
          </span>
        </p>
      </div>
      {at === 0 ? (
        <ul className="hazards">
          {test.hazards.map((hazard) => (
            <li key={hazard}>{hazard}</li>
          ))}
        </ul>
      ) : null}
      {outside ? (
        <p role="alert" className="not-tested">
          {outside} What you record counts as not tested.
        </p>
      ) : null}
      <ol className="test-dots" aria-label="Steps">
        {[...test.steps, null].map((one, i) => (
          <li key={one?.say ?? 'answer'} aria-current={i === at ? 'step' : undefined}>
            <span className="unseen">{one?.say ?? 'What happened'}</span>
          </li>
        ))}
      </ol>
      {answering ? (
        <TestAnswers
          study={study}
          particle={particle.id}
          test={test}
          busy={answer.isPending}
          problem={answer.error?.message ?? null}
          onAnswer={(value) => answer.mutate(value)}
          onSpectrum={() => {
            void client.invalidateQueries({ queryKey: shownBy });
            onEnd(true);
          }}
        />
      ) : (
        <section aria-label="Step" className="test-step">
          <h1>{step.say}</h1>
          {at === 0 && test.holds.notOn.length > 0 ? (
            <WhereItLies material={material} onGlass={onGlass} set={setOnGlass} />
          ) : null}
          {at === 0 && test.settings.length > 0 ? (
            <label className="test-setting">
              Done with{' '}
              <select value={setting ?? ''} onChange={(event) => setSetting(event.currentTarget.value)}>
                {test.settings.map(({ value, words }) => (
                  <option key={value} value={value}>
                    {words}
                  </option>
                ))}
              </select>
            </label>
          ) : null}
          {step.photo ? (
            <label className="button take-picture">
              <Icon name="photo" /> {pictures[step.photo] ? 'Taken; take another' : 'Take the picture'}
              <input
                type="file"
                accept="image/*"
                capture="environment"
                className="unseen"
                onChange={(event) => {
                  const file = event.currentTarget.files?.[0];
                  if (file && step.photo) keep.mutate({ file, when: step.photo });
                }}
              />
            </label>
          ) : null}
          {keep.error ? (
            <p role="alert" className="sheet-problem">
              {keep.error.message}
            </p>
          ) : null}
          {step.seconds === null ? null : <Timer key={at} seconds={step.seconds} />}
          {needsPicture ? (
            <div className="no-way-back" role="alert">
              <p>After this step the piece is not what it was, and there is no picture of it yet.</p>
              <button
                type="button"
                className="button"
                onClick={() => setAt(test.steps.findIndex((one) => one.photo === 'before'))}
              >
                Take the picture
              </button>
              <button type="button" className="button quiet" onClick={() => setWithout(true)}>
                Go on with the filter’s photograph alone
              </button>
            </div>
          ) : null}
        </section>
      )}
      <footer className="test-piece-foot">
        <button type="button" className="button" disabled={at === 0} onClick={() => setAt(at - 1)}>
          Back
        </button>
        {answering ? null : (
          <button
            type="button"
            className="button primary"
            disabled={needsPicture || keep.isPending}
            onClick={() => setAt(at + 1)}
          >
            {step.noWayBack ? 'Done' : 'Next'}
          </button>
        )}
      </footer>
    </div>
  );
}

/** Some tests must not be done on some filters: where the piece lies decides, and it is asked, not supposed. */
function WhereItLies({
  material,
  onGlass,
  set,
}: {
  material: string;
  onGlass: boolean;
  set: (onGlass: boolean) => void;
}) {
  return (
    <fieldset className="where-it-lies">
      <legend>Where does the piece lie now?</legend>
      {[[false, `Still on its filter (${material})`] as const, [true, 'On a glass slide'] as const].map(
        ([value, words]) => (
          <label key={words}>
            <input type="radio" name="lies" checked={onGlass === value} onChange={() => set(value)} /> {words}
          </label>
        ),
      )}
    </fieldset>
  );
}
