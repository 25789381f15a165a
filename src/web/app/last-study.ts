/** The study that was open last in this tab, so that pages beside any study lead back to it. */
const STORE = 'retentate/last-study/1';

export function rememberStudy(study: string): void {
  try {
    sessionStorage.setItem(STORE, study);
  } catch {
    // A browser that refuses its store leads back to the list of studies alone.
  }
}

export function lastStudy(): string | null {
  try {
    return sessionStorage.getItem(STORE);
  } catch {
    return null;
  }
}
