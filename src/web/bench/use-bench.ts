import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useMemo, useState } from 'react';
import type { RunSheetAnswer } from '../../api/index.ts';
import type { BenchTap, TapDeed } from '../../study/index.ts';
import { say } from '../app/notices.tsx';
import { sheetQuery } from '../server/queries.ts';
import { allTaps, type OnDevice, onDevice } from './on-device.ts';
import { onTaps, tap, useTapBox } from './tap-box.ts';

export interface Bench {
  readonly sheet: RunSheetAnswer;
  readonly here: OnDevice;
  readonly taps: readonly BenchTap[];
  /** Taps of this run that the laboratory does not have yet. */
  readonly waiting: number;
  readonly lasting: boolean;
  readonly held: readonly string[];
  /** Keeps a deed; it shows as soon as it is on the disk of this device. */
  readonly deed: (deed: TapDeed, id?: string) => void;
}

/** A run as this device knows it, and the way to tap. */
export function useBench(run: string) {
  const client = useQueryClient();
  const query = useQuery(sheetQuery(run));
  const box = useTapBox();
  useEffect(
    () =>
      onTaps((studies) => {
        void client.invalidateQueries({ queryKey: ['sheet'] });
        for (const study of studies) void client.invalidateQueries({ queryKey: ['study', study] });
      }),
    [client],
  );
  const sheet = query.data;
  const bench = useMemo((): Bench | null => {
    if (!sheet || !box.ready) return null;
    const taps = allTaps(sheet, [...box.sent, ...box.waiting], box.device);
    const study = sheet.run.study;
    return {
      sheet,
      taps,
      here: onDevice(sheet, taps),
      waiting: box.waiting.filter((one) => one.run === run).length,
      lasting: box.lasting,
      held: box.held.filter((one) => one.run === run).map((one) => one.held ?? ''),
      deed: (deed, id) => {
        tap(study, run, deed, id).catch(() =>
          say('This telephone could not store the tap: its memory may be full. Nothing was recorded.'),
        );
      },
    };
  }, [sheet, box, run]);
  return { bench, error: query.error, again: () => void query.refetch() };
}

/** The time now, moved on every second while something runs. */
export function useNow(running: boolean): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    if (!running) return;
    setNow(Date.now());
    const beat = setInterval(() => setNow(Date.now()), 1000);
    return () => clearInterval(beat);
  }, [running]);
  return now;
}

/** 75 s → “1:15”; an hour and more as “1:02:05”. Times before the start (a clock set back) stand at nought. */
export function clockWords(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  const two = (n: number) => String(n).padStart(2, '0');
  const [h, m, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}
