import { useSyncExternalStore } from 'react';

export type Theme = 'light' | 'dark';
const STORE = 'retentate/theme';
const prefersDark = matchMedia('(prefers-color-scheme: dark)');
const listeners = new Set<() => void>();

function chosen(): Theme | null {
  try {
    const kept = localStorage.getItem(STORE);
    return kept === 'light' || kept === 'dark' ? kept : null;
  } catch {
    return null;
  }
}
let theme: Theme = chosen() ?? (prefersDark.matches ? 'dark' : 'light');

function show(next: Theme): void {
  theme = next;
  document.documentElement.dataset.theme = next;
  for (const listener of listeners) listener();
}

/** Shows the theme chosen here before, or the one the system asks for, and follows the system until one is chosen. */
export function startTheme(): void {
  show(theme);
  prefersDark.addEventListener('change', (event) => {
    if (chosen() === null) show(event.matches ? 'dark' : 'light');
  });
}

export function chooseTheme(next: Theme): void {
  try {
    localStorage.setItem(STORE, next);
  } catch {
    // The choice then holds for this page only.
  }
  show(next);
}

export const useTheme = (): Theme =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => theme,
  );
