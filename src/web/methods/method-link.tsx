import { pathTo } from '../app/where.ts';
import { METHODS, type MethodName } from './methods.ts';

/** From a number to how it is computed. */
export function MethodLink({ name }: { name: MethodName }) {
  const { title } = METHODS.find((one) => one.name === name)!;
  return (
    <a className="method-link" href={pathTo({ page: 'method', name })}>
      How this is computed<span className="unseen">: {title}</span>
    </a>
  );
}
