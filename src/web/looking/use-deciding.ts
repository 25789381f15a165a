import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
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
  readonly choose: (id: string) => void;
  readonly step: (by: number) => void;
  readonly decide: (deed: 'keep' | 'drop') => void;
  readonly undo: () => Promise<void>;
  /** How many more particles count by the marks that still wait (fewer: below 0). */
  readonly more: number;
}

/** The particles of a photo with the marks that still wait, the chosen one, and the decisions on it. */
export function useDeciding(study: string, photo: PhotoJson, show: (id: string) => void): Deciding {
  const client = useQueryClient();
  const [chosen, setChosen] = useState<string | null>(null);
  const [order, sort] = useState<Order>('place');
  const waiting = useOutbox();
  const known = useQuery(particlesQuery(photo.id)).data?.particles;
  const count = known?.length;
  // The order stays as it was when the person chose it: a decision must not make the strip jump.
  // biome-ignore lint/correctness/useExhaustiveDependencies: ranked anew when particles come or go, not when they change.
  const ranks = useMemo(() => {
    const ranked = inOrder(known ?? [], order).map((particle, rank) => [particle.id, rank] as const);
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

  const choose = (id: string) => {
    setChosen(id);
    show(id);
  };
  const step = (by: number) => {
    const next = row[Math.min(row.length - 1, Math.max(0, at < 0 ? 0 : at + by))];
    if (next) choose(next.id);
  };
  const decide = (deed: 'keep' | 'drop') => {
    const particle = row[at];
    if (particle) post(study, photo.id, { deed, particles: [particle.id] });
    step(1);
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
  return { read: known !== undefined, row, at, order, sort, choose, step, decide, undo, more };
}

const sumCounting = (particles: readonly MarkedParticleJson[]) =>
  particles.filter((particle) => particle.counts).length;
