/** Reads a stream of server-sent events (WHATWG HTML, section 9.2) as far as names go; resolves when it ends. */
export async function readNews(
  body: ReadableStream<Uint8Array>,
  onNews: () => void,
): Promise<void> {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  let line = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    for (const c of decoder.decode(value, { stream: true })) {
      if (c !== '\n' && c !== '\r') {
        if (line.length < LONGEST_LINE) line += c;
        continue;
      }
      if (line === 'event: news') onNews();
      line = '';
    }
  }
}

/** A line of ours has eleven characters. */
const LONGEST_LINE = 200;
