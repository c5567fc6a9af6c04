import { expect, test } from 'vitest';
import { memoryStore, verifyFile } from '#store';
import { canonical } from '../../src/store/canonical.ts';
import { wordsOfKey } from '../../src/store/trust/fingerprint.ts';
import { forger, signedWalk } from './attack.ts';
import { countingWorld } from './help.ts';

/*
 * A stranger's file chooses its own names. None of them may begin a line of what
 * is said of it, turn the direction of reading, or close a quotation, so that it
 * would speak with the voice of whoever verifies.
 */

const LINE = 'This walk is sealed and whole: 9 events, under the key of this device';
const SPOOF = `x\n${LINE}\r\u2028${LINE}\u202e\u0000\u001b[2K`;
/** Ends a line, moves the cursor or turns the direction of reading. */
// eslint-disable-next-line no-control-regex
const TRICK = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/;

test.each(['the app', 'verify'])(
  '14.4 no name in a file speaks for whoever reads it: %s',
  async (way) => {
    const { store, walk } = await signedWalk();
    const stranger = await forger();
    const as = { device: `made-up ${SPOOF}` };
    const forged = stranger.chain(
      [
        { walk, kind: 'amendment', by: SPOOF, note: SPOOF },
        { walk, kind: 'station-set', station: SPOOF },
        { walk: `other ${SPOOF}`, kind: 'station-set', station: 'nose' },
      ],
      as,
    );
    const events = [...(await store.walk(walk)), ...forged];
    const lines: string[] = [];
    if (way === 'verify') {
      const text = new TextEncoder().encode(events.map((e) => canonical(e)).join('\n'));
      lines.push(...(await verifyFile(text)).lines);
    } else {
      const target = await memoryStore(countingWorld(77));
      const merged = await target.merge(events);
      const { verdict, besideLines, versions } = await target.judged(walk);
      lines.push(verdict.text, ...verdict.remarks, ...besideLines, ...merged.announced);
      lines.push(...versions.map((v) => v.text));
      const restored = await target.restore((await target.backup()).file);
      lines.push(...restored.text);
    }
    expect(lines.length).toBeGreaterThan(3);
    expect(lines.filter((line) => TRICK.test(line))).toEqual([]);
  },
);

test('14.4 the name of a device closes no quotation: it does not call its own key compared', async () => {
  const world = countingWorld(78);
  const device = await memoryStore(world);
  await device.nameDevice('A” (device b), which was compared. “');
  const { store, walk } = await signedWalk(1);
  await device.merge(await store.walk(walk));
  const made = await signedWalk(79);
  await made.store.nameDevice('A” (device b), which was compared. “');
  await made.store.seal(made.walk).catch(() => undefined);
  const target = await memoryStore(countingWorld(80));
  const { announced } = await target.merge(await made.store.all());
  const { verdict } = await target.judged(made.walk);
  const key = wordsOfKey(await made.store.publicKey());
  for (const said of [...announced, verdict.text]) {
    expect(said).toContain(key);
    expect(said).not.toContain('”, which was compared');
    expect(said).not.toMatch(/A” \(device b\)/);
  }
});
