import type { ServerResponse } from 'node:http';
import type { Parts } from './parts.ts';
import type { Caller } from './roles.ts';

/** How often something is sent although nothing is new, milliseconds: shorter than any proxy's patience. */
const BEAT = 15_000;
/** After which the connection ends and is made anew, so that who was shut out is out. */
const LASTS = 10 * 60_000;

/**
 * Server-sent events: "there is something new", and not what. Who is told asks the
 * feed, where it is decided what they may see.
 */
export function live({ news }: Parts, caller: Caller, response: ServerResponse): Promise<void> {
  response.writeHead(200, {
    'Content-Type': 'text/event-stream',
    // A proxy that collects before it passes on would make it late.
    'X-Accel-Buffering': 'no',
  });
  const say = (name: string) => void response.write(`event: ${name}\ndata: {}\n\n`);
  say('open');
  return new Promise((resolve) => {
    const off = news.wait(caller.school, () => say('news'));
    const beat = setInterval(() => response.write(': \n\n'), BEAT);
    const end = setTimeout(() => response.end(), LASTS);
    const stop = () => {
      off();
      clearInterval(beat);
      clearTimeout(end);
      resolve();
    };
    response.once('close', stop);
    response.once('error', stop);
  });
}
