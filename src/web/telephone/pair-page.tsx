import { useState } from 'react';
import { Field, Sheet } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';

/** What a telephone shows after it has scanned the code: one button, and it is let in. */
export function PairPage() {
  const [code, setCode] = useState(() => decodeURIComponent(location.hash.slice(1)));
  const [name, setName] = useState(nameOfThis);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const pair = async () => {
    if (code.trim() === '') return setProblem('Type the code that the computer shows.');
    setBusy(true);
    try {
      await ask('acceptPairing', {}, { code: code.trim(), name: name.trim() || nameOfThis() });
      // From here on the page may read the laboratory: it starts afresh, and the code leaves the address.
      location.replace('/');
    } catch (error) {
      setProblem((error as Error).message);
      setBusy(false);
    }
  };
  return (
    <div className="page">
      <h1 className="unseen">Pair this telephone</h1>
      <Sheet
        title="Pair this telephone"
        lead="It may then carry out runs and bring in photographs of this laboratory, until tonight or until it is sent away."
        problem={problem}
        deed="Pair it"
        busy={busy}
        onSubmit={() => void pair()}
      >
        <Field label="Code" value={code} set={setCode} autoCapitalize="characters" autoComplete="off" />
        <Field label="Name of this telephone" value={name} set={setName} />
      </Sheet>
    </div>
  );
}

const nameOfThis = (): string => /iPhone|iPad|Android/.exec(navigator.userAgent)?.[0] ?? 'telephone';
