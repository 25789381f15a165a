import { useSyncExternalStore } from 'react';

/** The six places of a study, in the order of the job. */
export const PLACES = ['question', 'procedure', 'runs', 'filters', 'evidence', 'claim'] as const;
export type Place = (typeof PLACES)[number];

export type Where =
  | { readonly page: 'studies' }
  | { readonly page: 'new-study' }
  | { readonly page: 'stands'; readonly study: string }
  | { readonly page: Place; readonly study: string; readonly item: string | null }
  | { readonly page: 'photo'; readonly study: string; readonly filter: string; readonly photo: string }
  /** Telephones of the room: on the computer, and on the telephone that is let in. */
  | { readonly page: 'network' }
  | { readonly page: 'pair' }
  /** Carrying a run out, on a telephone. */
  | { readonly page: 'bench'; readonly study: string; readonly run: string }
  | { readonly page: 'labels'; readonly study: string }
  /** Two photographs beside each other; null where none is chosen yet. */
  | {
      readonly page: 'beside';
      readonly study: string;
      readonly photos: readonly [string | null, string | null];
    }
  /** What a design can find. */
  | { readonly page: 'reach'; readonly study: string }
  /** Bench questions about liquids; null: the first. */
  | { readonly page: 'liquids'; readonly table: string | null }
  /** How things are computed; null: the list. */
  | { readonly page: 'method'; readonly name: string | null }
  /** Accounts of a group, and the way in with an invitation. */
  | { readonly page: 'people' }
  | { readonly page: 'join' }
  /** One’s own account; a new password by an owner’s code. */
  | { readonly page: 'account' }
  | { readonly page: 'new-password' }
  | { readonly page: 'nowhere'; readonly path: string };

/** What each page is called, for the head of the window. */
export const TITLES: { readonly [P in Where['page']]: string } = {
  studies: 'Studies',
  'new-study': 'New study',
  stands: 'Where it stands',
  question: 'Question',
  procedure: 'Procedure',
  runs: 'Runs',
  filters: 'Filters',
  evidence: 'Evidence',
  claim: 'Claim',
  photo: 'Photograph',
  beside: 'Beside each other',
  bench: 'At the bench',
  labels: 'Labels',
  reach: 'Plan the runs',
  network: 'Telephones at the bench',
  pair: 'Pair this telephone',
  liquids: 'Liquids',
  method: 'How it is computed',
  people: 'People',
  join: 'Join',
  account: 'Your account',
  'new-password': 'Set a new password',
  nowhere: 'No such page',
};

/** Pages that are found at their own name and need nothing else. */
const NAMED = ['new-study', 'people', 'join', 'account', 'new-password', 'network', 'pair'] as const;

/** Reads an address; what it does not know is `nowhere`, never a guess. */
export function readWhere(path: string): Where {
  const parts = path.split('/').filter(Boolean).map(decoded);
  const [root, study, place, item, deeper, photo] = parts;
  if (parts.length === 0) return { page: 'studies' };
  const named = NAMED.find((page) => page === root);
  if (named && parts.length === 1) return { page: named };
  if (root === 'methods' && parts.length <= 2) return { page: 'method', name: study ?? null };
  if (root === 'liquids' && parts.length <= 2) return { page: 'liquids', table: study ?? null };
  if (root !== 'studies' || study === undefined) return { page: 'nowhere', path };
  if (parts.length === 2) return { page: 'stands', study };
  if (parts.length === 6 && place === 'filters' && deeper === 'photos') {
    return { page: 'photo', study, filter: item!, photo: photo! };
  }
  if (parts.length === 5 && place === 'runs' && deeper === 'bench') {
    return { page: 'bench', study, run: item! };
  }
  if (parts.length === 3 && place === 'labels') return { page: 'labels', study };
  if (parts.length === 3 && place === 'reach') return { page: 'reach', study };
  if (place === 'beside' && parts.length <= 5) {
    return { page: 'beside', study, photos: [item ?? null, deeper ?? null] };
  }
  const known = PLACES.find((name) => name === place);
  if (known && parts.length <= 4) return { page: known, study, item: item ?? null };
  return { page: 'nowhere', path };
}

/** The address of a place. */
export function pathTo(where: Exclude<Where, { page: 'nowhere' }>): string {
  if (where.page === 'studies') return '/';
  if (where.page === 'liquids') {
    return where.table === null ? '/liquids' : `/liquids/${encodeURIComponent(where.table)}`;
  }
  if (where.page === 'method') {
    return where.name === null ? '/methods' : `/methods/${encodeURIComponent(where.name)}`;
  }
  if (!('study' in where)) return `/${where.page}`;
  const study = `/studies/${encodeURIComponent(where.study)}`;
  if (where.page === 'stands') return study;
  if (where.page === 'photo') {
    return `${study}/filters/${encodeURIComponent(where.filter)}/photos/${encodeURIComponent(where.photo)}`;
  }
  if (where.page === 'bench') return `${study}/runs/${encodeURIComponent(where.run)}/bench`;
  if (where.page === 'labels') return `${study}/labels`;
  if (where.page === 'reach') return `${study}/reach`;
  if (where.page === 'beside') {
    const chosen = where.photos.filter((one) => one !== null).map(encodeURIComponent);
    return [study, 'beside', ...chosen].join('/');
  }
  return `${study}/${where.page}${where.item === null ? '' : `/${encodeURIComponent(where.item)}`}`;
}

const decoded = (part: string) => {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
};

const listeners = new Set<() => void>();
const tell = () => {
  for (const listener of listeners) listener();
};

/** Goes to an address without loading the page anew. */
export function go(path: string, { replace = false } = {}): void {
  if (path === location.pathname + location.search + location.hash) return;
  if (replace) history.replaceState(null, '', path);
  else history.pushState(null, '', path);
  tell();
  if (!location.hash && !replace) scrollTo(0, 0);
}

function subscribe(listener: () => void) {
  listeners.add(listener);
  addEventListener('popstate', listener);
  return () => {
    listeners.delete(listener);
    removeEventListener('popstate', listener);
  };
}

export const usePath = (): string => useSyncExternalStore(subscribe, () => location.pathname);
export const useWhere = (): Where => readWhere(usePath());
