import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { PieceSpectrumJson } from '../../api/index.ts';
import { Icon } from '../look/icons.tsx';
import { putFile } from '../server/put-file.ts';

/** Endings that instruments write; others are read as well, by what they hold. */
export const SPECTRUM_FILES = '.jdx,.dx,.jcamp,.spc,.csv,.tsv,.txt,.dpt,.asc,.dat,.xy';

/** Brings in the spectrum of one piece: it is kept, held against the known materials, and its answer recorded. */
export function AttachSpectrum({
  study,
  particle,
  onDone,
}: {
  study: string;
  particle: string;
  onDone: (found: PieceSpectrumJson) => void;
}) {
  const client = useQueryClient();
  const attach = useMutation({
    mutationFn: (file: File) =>
      putFile<PieceSpectrumJson>('attachSpectrum', { particle }, { name: file.name || 'spectrum' }, file),
    onSuccess: (found) => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      onDone(found);
    },
  });
  return (
    <div className="attach-spectrum">
      <label className="button primary take-picture">
        <Icon name="add" /> {attach.isPending ? 'Comparing …' : 'Bring in the spectrum’s file'}
        <input
          type="file"
          accept={SPECTRUM_FILES}
          className="unseen"
          disabled={attach.isPending}
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            event.currentTarget.value = '';
            if (file) attach.mutate(file);
          }}
        />
      </label>
      <p className="section-lead">
        JCAMP-DX, SPC or columns of numbers. It is held against your known materials; “cannot tell” is an
        answer.
      </p>
      {attach.error ? (
        <p role="alert" className="sheet-problem">
          {attach.error.message}
        </p>
      ) : null}
    </div>
  );
}
