import { randomBytes } from 'node:crypto';
import { connect } from 'node:net';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sha256Hex } from '#store/pure';
import { ROUTES } from '../../src/school/routes.ts';
import { schoolStage, STARTING, type Device, type Stage } from './stage.ts';

/** Issue 14.6 at the school: no request may end the server, or make it fail where it has to refuse. */
const SEED = 20_261_129;
/** So many signed ones a device; and so many raw ones that nobody signed. */
const SIGNED = 400;
const RAW = 800;

let stage: Stage;
let devices: readonly Device[];
beforeAll(async () => {
  stage = await schoolStage();
  devices = [
    await stage.joined('The chief', ['chief']),
    await stage.joined('A pilot', ['pilot']),
    await stage.device('Nobody'),
  ];
  devices.at(-1)?.use(stage.school);
}, STARTING);
afterAll(() => stage.close());

const text = fc.oneof(
  fc.string({ maxLength: 90, unit: 'binary' }),
  fc.constantFrom('', '\0', 'a\0b', "'; drop table event; --", '\ud800', '%', '..', '%2f', 'null'),
  fc.constantFrom('9'.repeat(40), '-1', 'NaN', '__proto__', 'é'.repeat(90), '\u202e'),
);
const part = fc.oneof(
  fc.constantFrom('0'.repeat(64), 'current', 'sound', '%00', '%', '%E0%A4%A', '..', ''),
  text.map((words) => encodeURIComponent(words.toWellFormed())),
);
const query = fc.oneof(
  { weight: 2, arbitrary: fc.constant('') },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom('after', 'before', 'x', '__proto__'), part)
      .map(([name, value]) => `?${name}=${value}`),
  },
);
/** A route that is there, with anything where it takes a name; now and then one that is not. */
const way = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.tuple(fc.constantFrom(...ROUTES), part, query).map(([route, name, more]) => ({
      method: route.method as string,
      path: `${route.path.replace('*', () => name)}${more}`,
    })),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(part, query).map(([name, more]) => ({ method: 'POST', path: name + more })),
  },
);
const value: fc.Arbitrary<unknown> = fc.oneof(
  text,
  fc.constantFrom(null, true, -1, 1e308, 4294967296, []),
  fc.array(text, { maxLength: 4 }),
  fc.constantFrom(['chief'], ['pilot', 'pilot'], [['chief']]),
);
/** Bodies with the fields that some route reads. */
const fields = fc.record(
  {
    name: value,
    roles: value,
    person: value,
    code: value,
    editions: value,
    students: value,
    voice: value,
    gone: value,
    edition: value,
    catalogue: value,
    v: value,
    terms: value,
    device: value,
  },
  { requiredKeys: [] },
);
const body = fc.oneof(
  { weight: 5, arbitrary: fields.map((o) => JSON.stringify(o)) },
  { weight: 1, arbitrary: fc.json({ maxDepth: 3 }) },
  { weight: 1, arbitrary: fc.constantFrom('', '{', 'null', '[]', '\0', '{"__proto__":{"a":1}}') },
  {
    weight: 1,
    arbitrary: fc.array(fc.json({ maxDepth: 2 }), { maxLength: 5 }).map((l) => l.join('\n')),
  },
  { weight: 1, arbitrary: text },
);

/** Sends what the device has signed, to the letter. */
async function signed(
  device: Device,
  method: string,
  path: string,
  words: string,
): Promise<number> {
  // What the address becomes on its way is what has to be signed.
  const url = new URL(path, stage.base);
  const asked = url.href.slice(stage.base.length);
  if (!url.href.startsWith(stage.base)) return 404;
  const bytes = method === 'GET' ? new Uint8Array() : new TextEncoder().encode(words);
  const proof = {
    school: stage.school,
    at: Date.now(),
    nonce: randomBytes(12).toString('base64url'),
    method,
    path: asked,
    body: sha256Hex(bytes),
  };
  const signature = await device.store.prove(proof);
  const authorization = `Talkround school="${proof.school}", device="${device.store.device}", at="${proof.at}", nonce="${proof.nonce}", body="${proof.body}", signature="${signature}"`;
  const response = await fetch(url, {
    method,
    headers: { authorization },
    ...(method === 'GET' ? {} : { body: bytes }),
  });
  await response.arrayBuffer();
  return response.status;
}

/** Many at a time. */
async function inTurns<T>(all: readonly T[], turn: (one: T) => Promise<void>): Promise<void> {
  let next = 0;
  const hand = async () => {
    for (let one = all[next++]; one !== undefined; one = all[next++]) await turn(one);
  };
  await Promise.all(Array.from({ length: 12 }, hand));
}

const failures = () => stage.lines.filter((line) => 'what' in line && line['what'] === 'failed');

async function lives(): Promise<void> {
  const health = await fetch(new URL('/health', stage.base));
  expect(await health.json()).toMatchObject({ ok: true });
  const [chief] = devices;
  expect((await chief?.in().people())?.length).toBeGreaterThan(0);
}

test(`14.6 19: ${SIGNED} odd requests, signed by each kind of device, fail nothing (seed ${SEED})`, async () => {
  const statuses = new Map<number, number>();
  for (const [i, device] of devices.entries())
    await inTurns(
      fc.sample(fc.tuple(way, body), { numRuns: SIGNED, seed: SEED + i }),
      async ([{ method, path }, words]) => {
        const status = await signed(device, method, path, words);
        statuses.set(status, (statuses.get(status) ?? 0) + 1);
        expect(status, `${method} ${path} ${words}`).not.toBe(500);
      },
    );
  expect(failures()).toEqual([]);
  await lives();
  // They do reach what they are meant to reach.
  for (const status of [200, 400, 401, 403, 404])
    expect(statuses.get(status) ?? 0, `status ${status}`).toBeGreaterThan(0);
}, 120_000);

test(`14.6 19: ${RAW} that nobody signed are refused and end nothing (seed ${SEED})`, async () => {
  const head = fc.constantFrom(
    '',
    'Authorization: \r\n',
    'Authorization: Talkround school=""\r\n',
    `Authorization: Talkround school="x", device="y", at="9999999999999999", nonce="aaaaaaaa", body="${'0'.repeat(64)}", signature="${'A'.repeat(86)}"\r\n`,
    'Content-Length: 99999999999\r\n',
    'Transfer-Encoding: chunked\r\n',
    'Expect: 100-continue\r\n',
  );
  const target = fc.oneof(
    way.map(({ path }) => `/school/${path}`),
    fc.constantFrom(
      '/school/',
      '/school/live',
      '//',
      '/\\',
      'http://[',
      '*',
      '/health',
      '/school/join',
    ),
    fc.constantFrom(
      '/school/about',
      'http://x:99999/school/',
      '/school/invited',
      '/school/desk/ask',
    ),
  );
  const { hostname, port } = new URL(stage.base);
  const raw = fc.tuple(
    fc.constantFrom('GET', 'POST', 'PUT', 'DELETE', 'PATCH'),
    target,
    head,
    body,
  );
  await inTurns(
    fc.sample(raw, { numRuns: RAW, seed: SEED }),
    ([method, path, line, words]) =>
      new Promise<void>((resolve) => {
        const socket = connect({ host: hostname, port: Number(port) });
        const timer = setTimeout(() => socket.destroy(), 150);
        socket.on('connect', () =>
          socket.write(
            `${method} ${path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n${line}\r\n${words}`,
          ),
        );
        socket.on('data', (answer: Buffer) => {
          const status = /^HTTP\/1\.1 (\d{3})/.exec(answer.toString('latin1'))?.[1];
          if (status !== undefined) expect(status, `${method} ${path}`).not.toBe('500');
        });
        socket.on('error', () => socket.destroy());
        socket.on('close', () => {
          clearTimeout(timer);
          resolve();
        });
      }),
  );
  expect(failures()).toEqual([]);
  await lives();
}, 120_000);
