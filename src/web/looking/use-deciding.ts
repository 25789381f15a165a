import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useMemo, useRef, useState } from 'react';
import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { ask } from '../server/ask.ts';
import { emptied, post, takeBack, useOutbox } from '../server/outbox.ts';
import { refresh } from '../server/progress.ts';
import { heard, particlesQuery } from '../server/queries.ts';
import { takeInAnswer } from '../server/take-in.ts';
import { inOrder, type Order, withWaiting } from './deciding.ts';

export interface Deciding {
  /** False while the particles are still being read. */
  readonly read: boolean;
  /** In the order of the strip. */
  readonly row: readonly MarkedParticleJson[];
  /** Place of the chosen one in the row; −1 when none is chosen. */
  readonly at: number;
  readonly order: Order;
  readonly sort: (order: Order) => void;
  /** Chosen together with the one in hand. */
  readonly also: ReadonlySet<string>;
  readonly choose: (id: string, more?: boolean) => void;
  readonly step: (by: number, more?: boolean) => void;
  readonly decide: (deed: 'keep' | 'drop') => void;
  readonly rename: (
    names:
      | { readonly shape: MarkedParticleJson['shape'] }
      | { readonly colour: MarkedParticleJson['colour'] },
  ) => void;
  /** Parts the one in hand at its necks. */
  readonly part: () => void;
  /** Joins all that are chosen. */
  readonly join: () => void;
  readonly undo: () => Promise<void>;
  /** How many more particles count by the marks that still wait (fewer: below 0). */
  readonly more: number;
}

const NONE: ReadonlySet<string> = new Set();

/** The particles of a photo with the marks that still wait, the chosen one, and the decisions on it. */
export function useDeciding(study: string, photo: PhotoJson, show: (id: string) => void): Deciding {
  const client = useQueryClient();
  const [chosen, setChosen] = useState<string | null>(null);
  const [also, setAlso] = useState<ReadonlySet<string>>(NONE);
  const [order, sort] = useState<Order>('place');
  const waiting = useOutbox();
  const known = useQuery(particlesQuery(photo.id)).data?.particles;
  const count = known?.length;
  // The order stays as it was when the person chose it: a decision must not make the strip jump.
  // biome-ignore lint/correctness/useExhaustiveDependencies: ranked anew when particles come or go, not when they change.
  const ranks = useMemo(() => {
    const ranked = inOrder(known ?? [], order, chosen).map((particle, rank) => [particle.id, rank] as const);
    return new Map(count === 0 ? [] : ranked);
  }, [count, order]);
  const row = useMemo(
    () =>
      [...withWaiting(known ?? [], waiting, photo.id)].sort(
        (a, b) => (ranks.get(a.id) ?? 0) - (ranks.get(b.id) ?? 0),
      ),
    [known, waiting, photo.id, ranks],
  );
  const more = (known ? sumCounting(row) - sumCounting(known) : 0) || 0;
  const at = row.findIndex((particle) => particle.id === chosen);
  const last = useRef(0);
  if (at >= 0) last.current = at;
  // A piece that gave way to others: the one that now stands in its place is in hand.
  useEffect(() => {
    if (chosen === null || at >= 0 || row.length === 0) return;
    setChosen(row[Math.min(last.current, row.length - 1)]!.id);
    setAlso(NONE);
  }, [chosen, at, row]);

  const choose = (id: string, more = false) => {
    if (more && chosen !== null) {
      const wider = new Set(also);
      if (id === chosen) return;
      if (wider.has(id)) wider.delete(id);
      else wider.add(id);
      setAlso(wider);
    } else {
      setChosen(id);
      setAlso(NONE);
    }
    show(id);
  };
  const step = (by: number, more = false) => {
    const next = row[Math.min(row.length - 1, Math.max(0, at < 0 ? 0 : at + by))];
    if (!next) return;
    if (!more || chosen === null) return choose(next.id);
    setAlso(new Set([...also, chosen].filter((id) => id !== next.id)));
    setChosen(next.id);
    show(next.id);
  };
  const all = () => (chosen === null ? [] : [chosen, ...also]);
  const decide = (deed: 'keep' | 'drop') => {
    if (row[at]) post(study, photo.id, { deed, particles: all() });
    if (also.size === 0) step(1);
  };
  const rename: Deciding['rename'] = (names) => {
    if (!row[at]) return;
    post(
      study,
      photo.id,
      'shape' in names
        ? { deed: 'class', particles: all(), shape: names.shape }
        : { deed: 'colour', particles: all(), colour: names.colour },
    );
  };
  const part = () => {
    if (chosen !== null && also.size === 0) {
      post(study, photo.id, { deed: 'split', particles: [chosen], cut: null });
    } else say('Choose one piece to part.');
  };
  const join = () => {
    if (also.size > 0) post(study, photo.id, { deed: 'merge', particles: all() });
    else say('Choose two pieces or more to join: hold Shift and click, or Shift with an arrow.');
  };
  const undo = async () => {
    if (takeBack()) return;
    if (!(await emptied())) {
      say('The program does not answer; undo works when it is back.');
      return;
    }
    try {
      const answer = await heard(ask('undo', { study }));
      takeInAnswer(client, study, answer);
      refresh(client, study, answer.mark.photo);
      if (answer.mark.photo !== photo.id) say('Undone: the last mark was on another photograph.');
      else if (answer.particles[0]) choose(answer.particles[0].id);
    } catch (error) {
      say(error instanceof Error ? error.message : String(error));
    }
  };
  return {
    read: known !== undefined,
    row,
    at,
    also,
    order,
    sort,
    choose,
    step,
    decide,
    rename,
    part,
    join,
    undo,
    more,
  };
}

const sumCounting = (particles: readonly MarkedParticleJson[]) =>
  particles.filter((particle) => particle.counts).length;
