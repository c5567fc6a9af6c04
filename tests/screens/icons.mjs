// Draws the icons of the app: node tests/screens/icons.mjs writes public/icon*.
// The ring is the walk, one piece of it still open; the machine in it is nobody's type.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { findChromium } from '../chromium.mjs';

const folder = fileURLToPath(new URL('../../public/', import.meta.url));

/** @param {number} scale of the drawing in the square: a maskable icon keeps to the middle 80 % */
function icon(scale, corner) {
  const turn = `translate(256 256) scale(${scale}) translate(-256 -256)`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512" width="512" height="512">
  <rect width="512" height="512" rx="${corner}" fill="#92096a"/>
  <g transform="${turn}">
    <path fill="none" stroke="#ffffff" stroke-width="52" d="M322.5 89.500A178 178 0 1 1 189.500 89.500"/>
    <path fill="none" stroke="#ffffff" stroke-width="14" d="M212 83.500A178 178 0 0 1 300 83.500"/>
    <path fill="#ffffff" transform="translate(256 262) scale(1.15) translate(-256 -262)" d="M256 142c11 0 16 14 17 34l2 38 88 24v30l-88-10-8 64 32 22v22l-43-8-43 8v-22l32-22-8-64-88 10v-30l88-24 2-38c1-20 6-34 17-34z"/>
  </g>
</svg>
`.replace(/(\d\.\d)00/g, '$1');
}

const browser = await chromium.launch({ executablePath: findChromium() });
const page = await browser.newPage();
/** @param {string} svg @param {number} size @param {string} name */
async function png(svg, size, name) {
  await page.setViewportSize({ width: size, height: size });
  await page.setContent(
    `<body style="margin:0">${svg.replace('width="512" height="512"', `width="${size}" height="${size}"`)}`,
  );
  writeFileSync(folder + name, await page.screenshot({ omitBackground: true }));
}
const plain = icon(1, 96);
const maskable = icon(0.8, 0);
writeFileSync(`${folder}icon.svg`, plain);
await png(plain, 192, 'icon-192.png');
await png(plain, 512, 'icon-512.png');
await png(maskable, 512, 'icon-maskable-512.png');
await png(icon(0.9, 0), 180, 'apple-touch-icon.png');
await browser.close();
