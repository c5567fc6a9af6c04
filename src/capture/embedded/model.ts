/** The files of the model that the recogniser cannot do without, and their lengths in soundswallower 0.6.3. */
export const MODEL_FILES: Readonly<Record<string, number>> = {
  'feat_params.json': 190,
  mdef: 2_953_980,
  transition_matrices: 2_080,
  means: 838_732,
  variances: 838_732,
  sendump: 1_969_024,
  'dict.txt': 3_273_722,
  'noisedict.txt': 56,
};

const MODEL_BYTES = Object.values(MODEL_FILES).reduce((sum, length) => sum + length, 0);

/** Least step of the share that is told: a bar moves by what is seen, and the page is not drawn for each packet. */
const STEP = 0.02;

/** Takes how many bytes of the model came, and tells which share of it is here, 0 to 1. */
export function sharesOf(tell: (share: number) => void): (bytes: number) => void {
  let came = 0;
  let told = 0;
  return (bytes) => {
    came += bytes;
    const share = Math.min(1, came / MODEL_BYTES);
    if (share < told + STEP && !(share === 1 && told < 1)) return;
    told = share;
    tell(share);
  };
}

/** Reads a file to its end for its length; each piece that comes is told. */
export async function lengthOf(
  body: ReadableStream<Uint8Array> | null,
  came: (bytes: number) => void,
): Promise<number> {
  let length = 0;
  const reader = body?.getReader();
  for (;;) {
    const piece = await reader?.read();
    if (piece === undefined || piece.done) return length;
    length += piece.value.byteLength;
    came(piece.value.byteLength);
  }
}

export type ModelCheck = { readonly able: true } | { readonly able: false; readonly why: string };

/** Folder of the model, from an address that ends in "en-us/" or in the folder around it. */
export function baseOf(address: string): string {
  return address.replace(/en-us\/?$/, '').replace(/\/?$/, '/');
}

/**
 * Whether every file of the model is there and whole. The recogniser itself
 * takes a cut file without a word and then hears nothing.
 */
export async function checkModel(
  modelBase: string,
  read: (address: string) => Promise<{ ok: boolean; length(): Promise<number> }>,
): Promise<ModelCheck> {
  const base = baseOf(modelBase);
  const found = await Promise.all(
    Object.entries(MODEL_FILES).map(async ([name, length]): Promise<string | null> => {
      try {
        const answer = await read(`${base}en-us/${name}`);
        if (!answer.ok) return `its file "${name}" is missing`;
        const there = await answer.length();
        return there === length
          ? null
          : `its file "${name}" is cut: ${String(there)} of ${String(length)} bytes`;
      } catch {
        return `its file "${name}" cannot be read`;
      }
    }),
  );
  const wrong = found.find((f) => f !== null);
  if (wrong === undefined || wrong === null) return { able: true };
  return {
    able: false,
    why: `The recogniser on this device is not complete: ${wrong}. Open the page once with a network, then it is kept.`,
  };
}
