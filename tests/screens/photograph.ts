import type { Catalogue } from '#shared/catalogue';
import type { Event } from '#shared/event';
import { PICTURE_MIME } from '#shared/picture';
import { fold } from '#reconcile';
import type { PictureServices } from '#screens';

const SIDE = [1600, 1200] as const;

/** The finding at a check of a made-up walk. */
export function findingAt(catalogue: Catalogue, events: readonly Event[], check: string): string {
  const found = fold(catalogue, events).findings.find((f) => f.check === check);
  if (found === undefined) throw new Error(`Nothing was found at "${check}".`);
  return found.id;
}

/** The same walk with a photograph of what was found at a check, kept before anything was finished. */
export function photographed(catalogue: Catalogue, events: Event[], check: string): Event[] {
  const statement = findingAt(catalogue, events, check);
  const at = events.findIndex((e) => e.what.kind === 'stated' && e.what.statement.id === statement);
  const said = events[at];
  if (said === undefined) throw new Error(`Nothing was said at "${check}".`);
  const [width, height] = SIDE;
  const kept: Event = {
    ...said,
    id: `${said.id}-picture`,
    what: {
      kind: 'picture-kept',
      picture: 'p-1',
      mime: PICTURE_MIME,
      hash: 'made-up',
      width,
      height,
      of: { kind: 'finding', statement },
    },
  };
  return [...events.slice(0, at + 1), kept, ...events.slice(at + 1)];
}

/** Every photograph is the same one: a grey line on bright metal under a blue sky, so that no theme flatters it. */
export const PHOTOGRAPHS: PictureServices = {
  attach: async () => ({ ok: true, value: null }),
  attachToSquawk: async () => ({ ok: true, value: null }),
  open: async () => ({
    ok: true,
    value: { state: 'here', mime: PICTURE_MIME, data: await drawn() },
  }),
  erase: async () => ({ ok: true, value: null }),
};

async function drawn(): Promise<ArrayBuffer> {
  const [w, h] = SIDE;
  const canvas = new OffscreenCanvas(w, h);
  const pen = canvas.getContext('2d');
  if (pen === null) throw new Error('There is nothing to draw on.');
  const sky = pen.createLinearGradient(0, 0, 0, h);
  sky.addColorStop(0, '#66aaff');
  sky.addColorStop(0.6, '#ffffff');
  pen.fillStyle = sky;
  pen.fillRect(0, 0, w, h);
  pen.lineWidth = h / 8;
  pen.strokeStyle = '#555a60';
  pen.beginPath();
  pen.moveTo(0, h * 0.7);
  pen.quadraticCurveTo(w / 2, h * 0.2, w, h * 0.6);
  pen.stroke();
  pen.fillStyle = '#d0b060';
  pen.fillRect(w * 0.45, h * 0.36, w / 9, h / 10);
  const blob = await canvas.convertToBlob({ type: PICTURE_MIME, quality: 0.8 });
  return blob.arrayBuffer();
}
