import { useState } from 'react';
import { go } from '../app/where.ts';
import { Field } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** Opens what a label stands for: a kept remainder, a filter, a run. */
export function FindCode() {
  const [code, setCode] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const find = async () => {
    if (code.trim() === '') return setProblem('Type the code of a label, such as 7K3Q-X2MC.');
    try {
      const label = await heard(ask('byCode', { code: code.trim() }));
      setProblem(null);
      go(label.path);
    } catch (error) {
      setProblem((error as Error).message);
    }
  };
  return (
    <form
      className="find-code"
      aria-label="Find by label"
      onSubmit={(event) => {
        event.preventDefault();
        void find();
      }}
    >
      <Field
        label="Code of a label"
        value={code}
        set={setCode}
        autoCapitalize="characters"
        autoComplete="off"
      />
      <button type="submit" className="button">
        Open it
      </button>
      {problem ? (
        <p className="warned" role="alert">
          {problem}
        </p>
      ) : null}
    </form>
  );
}
