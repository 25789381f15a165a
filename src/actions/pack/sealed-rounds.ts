/** What stays at home when a study is packed while a round of it is sealed: its key, the seed that the key follows from, its readings. */
import { KEPT_ELSEWHERE } from '../../study/index.ts';
import type { Row, Tables } from './archive-ports.ts';

/** A round whose key stayed behind, as the card of an archive names it. */
export interface SealedRound {
  readonly id: string;
  readonly name: string;
  /** SHA-256 of the key, so that it can be held against the key once that is open. */
  readonly key_sha256: string;
}

/**
 * Whoever has the archive could read the key in it and score knowing, or read what the other scorer said: neither goes along
 * before the opening. The round itself, its hash, its locks and predictions do.
 */
export function withoutSealedKeys(tables: Tables): {
  readonly tables: Tables;
  readonly sealed: readonly SealedRound[];
} {
  const events = tables.get('round_event') ?? [];
  const opened = new Set(events.filter(({ deed }) => deed === 'open').map(({ round }) => round));
  const rounds = tables.get('blind_round') ?? [];
  const sealed = new Set(rounds.map(({ id }) => id).filter((id) => !opened.has(id)));
  if (sealed.size === 0) return { tables, sealed: [] };
  const bare = (round: Row): Row => (sealed.has(round.id) ? { ...round, ...KEPT_ELSEWHERE } : round);
  return {
    tables: new Map([
      ...tables,
      ['blind_round', rounds.map(bare)],
      ['blind_reading', (tables.get('blind_reading') ?? []).filter(({ round }) => !sealed.has(round))],
    ]),
    sealed: rounds
      .filter(({ id }) => sealed.has(id))
      .map(({ id, name, key_hash }) => ({
        id: String(id),
        name: String(name),
        key_sha256: String(key_hash),
      })),
  };
}
