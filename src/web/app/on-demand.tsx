import { type ComponentType, type LazyExoticComponent, lazy, Suspense, useState } from 'react';
import { Waiting } from '../look/parts.tsx';

/** A part of the page that did not come: the program is away, or is another edition than the page. */
export class PartMissing extends Error {}

const missing = new Set<() => void>();

/** Parts that did not come are asked for again when they are shown next. */
export function forgetMissing(): void {
  for (const forget of missing) forget();
  missing.clear();
}

export type OnDemand<P> = ComponentType<P> & { readonly fetch: () => void };

/**
 * A component that comes when somebody goes there, or before that (`fetch`); one that is there already is shown at once,
 * without a moment of waiting.
 */
export function onDemand<P extends object>(what: string, load: () => Promise<ComponentType<P>>): OnDemand<P> {
  let part: LazyExoticComponent<ComponentType<P>> | null = null;
  let there: ComponentType<P> | null = null;
  const come = async () => {
    there = await load();
    return there;
  };
  const begin = () =>
    lazy(async () => {
      try {
        return { default: await come() };
      } catch (error) {
        missing.add(() => {
          part = null;
        });
        throw new PartMissing(`the part for ${what} did not come`, { cause: error });
      }
    });
  // biome-ignore lint/correctness/noComponentHookFactories: made once for each part, when the module is read.
  function Shown(props: P) {
    // Chosen once for as long as it is shown: another component in its place would forget what was typed.
    const [Here] = useState(() => there);
    if (Here) return <Here {...props} />;
    part ??= begin();
    const Part = part as ComponentType<P>;
    return (
      <Suspense fallback={<Waiting what={what} />}>
        <Part {...props} />
      </Suspense>
    );
  }
  // A failure here is no news: the part is asked for again when it is shown.
  return Object.assign(Shown, { fetch: () => void (there ? null : come().catch(() => {})) });
}
