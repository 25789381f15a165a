import { useQueryClient } from '@tanstack/react-query';
import {
  Button,
  type DirectoryDropItem,
  type DropItem,
  DropZone,
  FileTrigger,
  ProgressBar,
} from 'react-aria-components';
import type { PhotoJson } from '../../api/index.ts';
import { Icon } from '../look/icons.tsx';
import { many } from '../look/words.ts';
import { bringAfterAll, bringIn, type Incoming, putAway, stopBringing, useBringing } from './bring-in.ts';

/** A folder holds other things as well; of those that are dropped each is told its fate. */
const PHOTOGRAPH = /\.(jpe?g|png|tiff?|webp)$/i;

/** Bringing photographs in: dropped as files or folders, or picked; each file's own progress and, if refused, why. */
export function BringInZone({
  study,
  filter,
  photos,
}: {
  study: string;
  filter: string;
  photos: readonly PhotoJson[];
}) {
  const client = useQueryClient();
  const incoming = useBringing(filter);
  const take = (files: readonly File[]) => bringIn(client, study, filter, files);
  const going = incoming.some((f) => f.is.state === 'waiting' || f.is.state === 'sending');
  const stopped = incoming.some((f) => f.is.state === 'stopped');
  const ended = incoming.filter((f) => f.is.state !== 'waiting' && f.is.state !== 'sending');
  return (
    <div className="bring-in">
      <DropZone
        className="drop-zone"
        aria-label="Drop photographs of this filter here"
        onDrop={(event) => {
          void filesOf(event.items).then(take);
        }}
      >
        <Icon name="bring" size={32} />
        <p>
          Drop photographs or a folder of them here
          <small>JPEG, PNG, TIFF or WebP. Originals are kept as they are.</small>
        </p>
        <FileTrigger
          allowsMultiple
          acceptedFileTypes={[
            'image/jpeg',
            'image/png',
            'image/tiff',
            'image/webp',
            '.jpg',
            '.jpeg',
            '.png',
            '.tif',
            '.tiff',
            '.webp',
          ]}
          onSelect={(list) => take([...(list ?? [])])}
        >
          <Button className="button primary">Choose files</Button>
        </FileTrigger>
        <FileTrigger
          acceptDirectory
          onSelect={(list) => take([...(list ?? [])].filter(({ name }) => PHOTOGRAPH.test(name)))}
        >
          <Button className="button">Choose a folder</Button>
        </FileTrigger>
      </DropZone>
      {incoming.length > 0 ? (
        <section className="incoming" aria-label="Photographs coming in">
          <p role="status">{summary(incoming)}</p>
          <ul>
            {incoming.map((one) => (
              <IncomingFile key={one.key} one={one} photos={photos} />
            ))}
          </ul>
          {going ? (
            <button type="button" className="button" onClick={() => stopBringing(filter)}>
              Stop
            </button>
          ) : null}
          {stopped && !going ? (
            <button type="button" className="button" onClick={() => bringAfterAll(client, filter)}>
              Bring the rest in after all
            </button>
          ) : null}
          {ended.length > 0 ? (
            <button type="button" className="button quiet" onClick={() => putAway(filter)}>
              Put this list away
            </button>
          ) : null}
        </section>
      ) : null}
    </div>
  );
}

/** Good to know while the filter still lies under the lens. */
const AGAIN = 'Better now, while the filter still lies under the lens.';

function IncomingFile({ one, photos }: { one: Incoming; photos: readonly PhotoJson[] }) {
  const { is } = one;
  const photo = is.state === 'added' ? photos.find(({ id }) => id === is.photo) : undefined;
  const faults = photo?.state === 'refused' ? [photo.refusal] : (photo?.warnings ?? []);
  return (
    <li className={`incoming-${is.state}`}>
      <span className="incoming-name">{one.name}</span>
      {is.state === 'sending' ? (
        <ProgressBar aria-label={`Sending ${one.name}`} value={is.share * 100} className="bar">
          {({ percentage }) => <i style={{ inlineSize: `${percentage ?? 0}%` }} />}
        </ProgressBar>
      ) : (
        <span className="incoming-fate">
          {is.state === 'waiting'
            ? 'waits its turn'
            : is.state === 'stopped'
              ? 'stopped; not brought in'
              : is.state === 'refused'
                ? is.sentence
                : is.known
                  ? 'was already here; kept once'
                  : photo?.state === 'searched'
                    ? `is in; ${many(photo.particles ?? 0, 'particle')} found`
                    : photo?.state === 'refused'
                      ? 'is in, but cannot be searched'
                      : 'is in; being searched'}
        </span>
      )}
      {faults.length > 0 ? (
        <span className="warned" role="alert">
          {faults.map((fault) => fault?.message ?? '').join(' ')} {AGAIN}
        </span>
      ) : null}
    </li>
  );
}

function summary(incoming: readonly Incoming[]): string {
  const of = (state: Incoming['is']['state']) => incoming.filter((f) => f.is.state === state).length;
  const going = of('waiting') + of('sending');
  const parts = [
    going > 0 ? `${many(going, 'file')} on the way` : '',
    of('added') > 0 ? `${many(of('added'), 'photograph')} brought in` : '',
    of('stopped') > 0 ? `${many(of('stopped'), 'file')} stopped` : '',
    of('refused') > 0 ? `${many(of('refused'), 'file')} refused` : '',
  ];
  return `${parts.filter(Boolean).join(', ')}.`;
}

/** Files of a drop, those inside folders included. */
async function filesOf(items: readonly DropItem[]): Promise<readonly File[]> {
  const files: File[] = [];
  for (const item of items) {
    if (item.kind === 'file') files.push(await item.getFile());
    if (item.kind === 'directory') files.push(...(await filesIn(item)));
  }
  return files;
}

async function filesIn(folder: DirectoryDropItem): Promise<readonly File[]> {
  const files: File[] = [];
  for await (const entry of folder.getEntries()) {
    if (entry.kind === 'file') files.push(await entry.getFile());
    else files.push(...(await filesIn(entry)));
  }
  return files;
}
