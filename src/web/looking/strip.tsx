import { useEffect, useRef, useState } from 'react';
import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { lengthWords } from '../look/words.ts';
import { standsAs } from './deciding.ts';
import { ParticlePicture } from './particle-picture.tsx';

const STEP = 112;
const AROUND = 4;

/**
 * Pictures of the particles in a row. Only those in view are made, so ten thousand cost as much as twenty. The strip is
 * one stop of the Tab key; the chosen particle moves with the arrows of the page.
 */
export function Strip({
  photo,
  particles,
  chosen,
  also,
  onChoose,
}: {
  photo: PhotoJson;
  particles: readonly MarkedParticleJson[];
  chosen: string | null;
  also: ReadonlySet<string>;
  onChoose: (id: string, more: boolean) => void;
}) {
  const strip = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState({ from: 0, to: 24 });
  const at = particles.findIndex((particle) => particle.id === chosen);

  useEffect(() => {
    const element = strip.current!;
    const look = () => {
      const from = Math.max(0, Math.floor(element.scrollLeft / STEP) - AROUND);
      const to = Math.ceil((element.scrollLeft + element.clientWidth) / STEP) + AROUND;
      setSeen((known) => (known.from === from && known.to === to ? known : { from, to }));
    };
    look();
    element.addEventListener('scroll', look, { passive: true });
    const watch = new ResizeObserver(look);
    watch.observe(element);
    return () => {
      element.removeEventListener('scroll', look);
      watch.disconnect();
    };
  }, []);

  useEffect(() => {
    const element = strip.current!;
    if (at < 0) return;
    const middle = at * STEP - element.clientWidth / 2 + STEP / 2;
    const shown =
      at * STEP >= element.scrollLeft && (at + 1) * STEP <= element.scrollLeft + element.clientWidth;
    if (!shown) element.scrollTo({ left: middle });
  }, [at]);

  const shown = particles.slice(seen.from, seen.to);
  const drawn = at >= seen.from && at < seen.to;
  return (
    <div
      ref={strip}
      className="strip"
      role="listbox"
      tabIndex={0}
      aria-label={`Particles of ${photo.name}`}
      aria-orientation="horizontal"
      aria-multiselectable="true"
      aria-activedescendant={chosen !== null && drawn ? `particle-${chosen}` : undefined}
    >
      <div className="strip-inner" style={{ inlineSize: `${particles.length * STEP}px` }}>
        {shown.map((particle, k) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: keys are handled once, by the strip.
          // biome-ignore lint/a11y/useFocusableInteractive: options of a listbox with an active descendant take no focus.
          <div
            key={particle.id}
            id={`particle-${particle.id}`}
            role="option"
            aria-selected={particle.id === chosen || also.has(particle.id)}
            aria-setsize={particles.length}
            aria-posinset={seen.from + k + 1}
            aria-label={spoken(particle)}
            className={`strip-particle is-${standsAs(particle)}${particle.disagree.length > 0 ? ' is-disputed' : ''}`}
            style={{ insetInlineStart: `${(seen.from + k) * STEP}px` }}
            onClick={(event) => onChoose(particle.id, event.shiftKey)}
          >
            <ParticlePicture photo={photo} particle={particle} side={96} />
            <span className="strip-size">
              {particle.feret_max_um === null
                ? `${Math.round(particle.feret_max_px)} px`
                : lengthWords(particle.feret_max_um)}
            </span>
          </div>
        ))}
      </div>
    </div>
  );
}

/** A particle in words, for those who cannot see its picture. */
export function spoken(particle: MarkedParticleJson): string {
  const size =
    particle.feret_max_um === null
      ? `${Math.round(particle.feret_max_px)} pixels`
      : lengthWords(particle.feret_max_um);
  return `Particle ${particle.number}: ${particle.colour} ${particle.shape}, ${size}, ${particle.counts_on === null ? particle.decision : 'counts on another photograph'}${particle.disagree.length > 0 ? ', people differ' : ''}`;
}
