// Speaks one sentence into a WAV file: node flite.mjs MODULE FOLDER VOICE STRETCH TEXT
// A process of its own, because Node 20 was seen to crash (segmentation fault) in
// programs that ran the synthesiser many times beside other WebAssembly.
import { readFileSync } from 'node:fs';
import { WASI } from 'node:wasi';

const [, , file, folder, voice, stretch, text] = process.argv;
const wasi = new WASI({
  version: 'preview1',
  // One word would be taken for the name of a file, hence the space.
  args: [
    'flite',
    '-voice',
    voice,
    '--setf',
    `duration_stretch=${stretch}`,
    '-t',
    `${text} `,
    '-o',
    '/out/speech.wav',
  ],
  preopens: { '/out': folder },
  returnOnExit: true,
});
const { WebAssembly } = globalThis;
const { instance } = await WebAssembly.instantiate(readFileSync(file), wasi.getImportObject());
process.exitCode = wasi.start(instance);
