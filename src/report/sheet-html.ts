import type { Finding } from '#shared/coverage';
import { PICTURE_MIME } from '#shared/picture';
import { escaped } from './escaped.ts';
import { absentWords } from './pictures.ts';
import type { SheetParts } from './sheet-pdf.ts';
import { checkNames, findingLines, sealLines, sheetText } from './sheet-text.ts';

/** The sheet as one HTML file without script: to save, to send, to print. */
export function sheetHtml(parts: SheetParts): string {
  const { coverage, catalogue, head } = parts;
  const title = `${head.aircraft}, ${catalogue.name}, ${new Date(head.begun).toISOString().slice(0, 10)}`;
  const text = sheetText(coverage, catalogue, { why: true });
  return htmlPage(
    title,
    `<pre>${escaped([text, ...sealLines(parts.seal)].join('\n'))}</pre>\n${picturesOf(parts)}`,
  );
}

/** A page that fetches nothing and runs nothing; its pictures are in it. Its body begins below the heading. */
export function htmlPage(title: string, body: string, style = '', heading = title): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'${body.includes('<img ') ? '; img-src data:' : ''}">
<title>${escaped(title)}</title>
<style>
  body { font: 11pt/1.4 system-ui, sans-serif; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
  pre { font: inherit; white-space: pre-wrap; }
  figure { margin: 1rem 0; break-inside: avoid; }
  img { max-width: 100%; max-height: 24rem; }
  @page { margin: 18mm; }
${style}</style>
</head>
<body>
<main>
<h1>${escaped(heading)}</h1>
${body}
</main>
</body>
</html>
`;
}

function picturesOf(parts: SheetParts): string {
  const names = checkNames(parts.catalogue);
  const of = (finding: Finding) =>
    (findingLines(finding, names, { why: false })[0] ?? '').trim().replace(/^! /, '');
  const figures = parts.coverage.findings.flatMap((finding) =>
    (finding.pictures ?? []).map(({ hash }) => pictureHtml(parts, hash, of(finding))),
  );
  return figures.length === 0 ? '' : `<h2>Pictures</h2>\n${figures.join('\n')}\n`;
}

export function pictureHtml({ pictures }: SheetParts, hash: string, caption: string): string {
  const shown = pictures?.get(hash);
  const words = escaped(caption);
  if (shown?.state !== 'here' || shown.mime !== PICTURE_MIME)
    return `<p>${words}: ${escaped(absentWords(shown) ?? 'A picture was taken that cannot be shown.')}</p>`;
  const data = base64(new Uint8Array(shown.data));
  return `<figure><img alt="${words}" src="data:${PICTURE_MIME};base64,${data}"><figcaption>${words}</figcaption></figure>`;
}

/** Bytes in the letters of RFC 4648. In pieces: an argument list has an end. */
function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}
