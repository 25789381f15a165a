import { useMutation, useQueryClient } from '@tanstack/react-query';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** Ends the session, and forgets what the page knew. */
export function SignOut({ quiet = false }: { quiet?: boolean }) {
  const client = useQueryClient();
  const leave = useMutation({
    mutationFn: () => heard(ask('signOut')),
    onSettled: () => {
      client.clear();
      location.assign('/');
    },
  });
  return (
    <button
      type="button"
      className={quiet ? 'button quiet sign-out' : 'button'}
      onClick={() => leave.mutate()}
    >
      Sign out
    </button>
  );
}
