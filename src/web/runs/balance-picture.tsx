import { useCallback } from 'react';
import { type RunBalance, runBalance } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';

/** The flow of a run's liquid into its parts. */
export function BalancePicture({ balance, name }: { balance: RunBalance; name: string }) {
  const draw = useCallback((width: number) => runBalance({ balance, width, name }), [balance, name]);
  return <Drawing draw={draw} className="balance" />;
}
