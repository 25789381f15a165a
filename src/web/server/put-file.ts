import { type addressOf as AddressOf, addressOf, type Parts, read } from './ask.ts';
import { heard } from './queries.ts';
import { workingHeader } from './working.ts';

type Name = Parameters<typeof AddressOf>[0];

/** Sends a file as it is; the answer is JSON of the route's shape. Throws as every request does. */
export async function putFile<T>(
  name: Name,
  parts: Parts,
  query: Readonly<Record<string, string | undefined>>,
  file: File,
): Promise<T> {
  const given = Object.entries(query).flatMap(([key, value]) =>
    value === undefined || value === '' ? [] : [`${key}=${encodeURIComponent(value)}`],
  );
  const answer = fetch(`${addressOf(name, parts)}${given.length > 0 ? `?${given.join('&')}` : ''}`, {
    method: 'PUT',
    headers: { ...workingHeader(), 'content-type': 'application/octet-stream' },
    body: file,
  });
  return (await heard(answer.then(read))) as T;
}
