export interface Answer {
  readonly status: number;
  // biome-ignore lint/suspicious/noExplicitAny: answers are looked into by the tests, field by field
  readonly json: any;
  /** What the answer gave to come back with; empty: nothing. */
  readonly cookie: string;
}

/** Somebody who speaks to a group's server, with a cookie once they have joined. */
export interface Person {
  readonly name: string;
  /** One request as this person; the body as JSON, or bytes. */
  ask(
    method: string,
    route: string,
    body?: unknown,
    headers?: Readonly<Record<string, string>>,
  ): Promise<Answer>;
  /** What a route tells as it happens. */
  open(route: string): Promise<ReadableStream<Uint8Array>>;
}

export const withCookie = (address: string, name: string, cookie: string): Person => ({
  name,
  async ask(method, route, body, headers = {}) {
    const bytes = body instanceof Uint8Array;
    const answer = await fetch(address + route, {
      method,
      headers: {
        ...(cookie ? { cookie } : {}),
        ...(body === undefined
          ? {}
          : { 'content-type': bytes ? 'application/octet-stream' : 'application/json' }),
        ...headers,
      },
      ...(body === undefined ? {} : { body: bytes ? Buffer.from(body) : JSON.stringify(body) }),
    });
    const json = await answer.json().catch(() => null);
    return { status: answer.status, json, cookie: cookieOf(answer) };
  },
  open: async (route) => (await fetch(address + route, { headers: { cookie } })).body!,
});

const cookieOf = (answer: Response): string => answer.headers.get('set-cookie')?.split(';')[0] ?? '';

const loginOf = (name: string): string => name.toLowerCase().replaceAll(/[^a-z0-9]/g, '.');
/** With which `personAt` joins. */
export const passwordOf = (name: string): string => `carrot knife board ${loginOf(name).length} glass`;

/** Joins with a code. */
export async function personAt(address: string, name: string, code: string): Promise<Person> {
  const answer = await fetch(`${address}/api/join`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ code, name, login: loginOf(name), password: passwordOf(name) }),
  });
  if (!answer.ok) throw new Error(`${name} was not let in: ${await answer.text()}`);
  return withCookie(address, name, cookieOf(answer));
}
