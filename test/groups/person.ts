/** Somebody who speaks to a group's server, with a cookie once they have joined. */
export interface Person {
  readonly name: string;
  /** One request as this person; the body as JSON, or bytes. */
  ask(
    method: string,
    route: string,
    body?: unknown,
    headers?: Readonly<Record<string, string>>,
    // biome-ignore lint/suspicious/noExplicitAny: answers are looked into by the tests, field by field
  ): Promise<{ status: number; json: any }>;
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
    return { status: answer.status, json: await answer.json().catch(() => null) };
  },
  open: async (route) => (await fetch(address + route, { headers: { cookie } })).body!,
});

/** Joins with a code. */
export async function personAt(address: string, name: string, code: string): Promise<Person> {
  const login = name.toLowerCase().replaceAll(/[^a-z0-9]/g, '.');
  const answer = await fetch(`${address}/api/join`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ code, name, login, password: `carrot knife board ${login.length} glass` }),
  });
  if (!answer.ok) throw new Error(`${name} was not let in: ${await answer.text()}`);
  return withCookie(address, name, answer.headers.get('set-cookie')!.split(';')[0]!);
}
