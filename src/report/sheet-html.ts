import type { SheetParts } from './sheet-pdf.ts';
import { sealLines, sheetText } from './sheet-text.ts';

/** The sheet as one HTML file without script: to save, to send, to print. */
export function sheetHtml(parts: SheetParts): string {
  const { coverage, catalogue, head } = parts;
  const title = `${head.aircraft}, ${catalogue.name}, ${new Date(head.begun).toISOString().slice(0, 10)}`;
  const text = sheetText(coverage, catalogue, { why: true });
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(title)}</title>
<style>
  body { font: 11pt/1.4 system-ui, sans-serif; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
  pre { font: inherit; white-space: pre-wrap; }
  @page { margin: 18mm; }
</style>
</head>
<body>
<h1>${escaped(title)}</h1>
<pre>${escaped([text, ...sealLines(parts.seal)].join('\n'))}</pre>
</body>
</html>
`;
}

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
