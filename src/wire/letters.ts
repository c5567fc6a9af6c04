import type { Letters } from '#report';

/** The files of the font, as they lie beside the app; `vite.config.ts` puts them there. */
export const LETTER_FILES = {
  plain: 'DejaVuSansCondensed.ttf',
  bold: 'DejaVuSansCondensed-Bold.ttf',
} as const;

/**
 * The letters of papers, fetched when the first one is made and kept while the
 * page is open. They are in the offline copy, so that no network is needed.
 */
export function lettersFrom(folder: string): () => Promise<Letters> {
  let loaded: Promise<Letters> | null = null;
  return () => {
    loaded ??= load(folder).catch((error: unknown) => {
      // They may be there the next time.
      loaded = null;
      throw error;
    });
    return loaded;
  };
}

async function load(folder: string): Promise<Letters> {
  const [plain, bold] = await Promise.all([
    file(folder + LETTER_FILES.plain),
    file(folder + LETTER_FILES.bold),
  ]);
  return { plain, bold };
}

async function file(address: string): Promise<Uint8Array> {
  const answer = await fetch(address).catch(() => null);
  if (answer?.ok !== true)
    throw new Error(
      'The letters for printing could not be loaded, so no PDF was made. Nothing is lost: the page and the other files say the same.',
    );
  return new Uint8Array(await answer.arrayBuffer());
}
