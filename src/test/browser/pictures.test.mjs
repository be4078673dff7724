// Every page as a whole against its approved picture: INDWELL_BASE=… node --test pictures.test.mjs
// The pages have to stand at a fixed time (PagesPicturedIT). APPROVE=true writes the approved pictures anew.
import assert from 'node:assert/strict';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { after, before, describe, it } from 'node:test';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { SHAPES, addresses, launch } from './browser.mjs';

const base = process.env.INDWELL_BASE ?? 'http://localhost:8080';
const approving = process.env.APPROVE === 'true';
const seen = process.env.PICTURES ?? '../../../target/pictures';
const approved = 'approved';
// What Chromium draws differently from time to time; a moved line is hundreds of them.
const FEW = 1 / 20_000;
// Half the size keeps the files small, and a shifted line is still a shifted line.
const WAYS = {
  light: { ...SHAPES.light, deviceScaleFactor: 0.5 },
  dark: { ...SHAPES.dark, deviceScaleFactor: 0.5 },
  phone: { ...SHAPES.phone, deviceScaleFactor: 0.5 },
  // A4 at 96 dots an inch.
  print: { viewport: { width: 794, height: 1123 }, colorScheme: 'light', deviceScaleFactor: 0.5 },
};

// Machines have different fonts: one of a known package is used instead of theirs.
const font = (weight) =>
  readFileSync(createRequire(import.meta.url).resolve(`@fontsource/noto-sans/files/noto-sans-latin-${weight}-normal.woff2`), 'base64');
const style = [400, 700]
  .map((weight) => `@font-face{font-family:Pictured;font-weight:${weight};src:url(data:font/woff2;base64,${font(weight)})}`)
  .join('') + '*{font-family:Pictured,sans-serif!important;animation:none!important;transition:none!important}';

let browser;
let pages;

before(async () => {
  browser = await launch();
  pages = await addresses(browser, base);
  for (const folder of [seen, approved]) mkdirSync(folder, { recursive: true });
});
after(() => browser?.close());

async function picture(path, way, more = '') {
  // The policy of the pages would refuse the font.
  const context = await browser.newContext({ ...WAYS[way], bypassCSP: true });
  await context.addCookies([{ name: 'indwell-recorder', value: 'N-204', url: base }]);
  const page = await context.newPage();
  await page.emulateMedia({ media: way === 'print' ? 'print' : 'screen' });
  await page.goto(base + path);
  await page.addStyleTag({ content: style + more });
  await page.evaluate(() => document.fonts.ready);
  const png = await page.screenshot({ fullPage: true });
  await context.close();
  return png;
}

/** What differs, in words; empty when the pictures are the same. */
function difference(one, other, file) {
  const [a, b] = [PNG.sync.read(one), PNG.sync.read(other)];
  if (a.width !== b.width || a.height !== b.height) {
    return `${a.width} x ${a.height} instead of ${b.width} x ${b.height}`;
  }
  const marked = new PNG({ width: a.width, height: a.height });
  const points = pixelmatch(a.data, b.data, marked.data, a.width, a.height, { threshold: 0.1 });
  if (points <= a.width * a.height * FEW) return '';
  if (file) writeFileSync(file, PNG.sync.write(marked));
  return `${points} of ${a.width * a.height} points`;
}

describe('pages as pictures', () => {
  for (const way of Object.keys(WAYS)) {
    it(`look as they were approved, ${way}`, async () => {
      const differing = [];
      for (const [name, path] of Object.entries(pages)) {
        const file = `${name}-${way}.png`;
        const png = await picture(path, way);
        writeFileSync(`${seen}/${file}`, png);
        if (approving) {
          writeFileSync(`${approved}/${file}`, png);
          continue;
        }
        assert.ok(existsSync(`${approved}/${file}`), `${file} was never approved`);
        const told = difference(png, readFileSync(`${approved}/${file}`), `${seen}/${name}-${way}-difference.png`);
        if (told) differing.push(`${file}: ${told}`);
      }
      assert.deepEqual(differing, [], `what was seen and where it differs lies in ${seen}`);
    });
  }

  // A comparison that sees nothing would let everything pass.
  for (const [what, more] of [
    ['a title moved by four points', 'h1{padding-top:4px!important}'],
    ['a colour of a label', '.hand,.due{color:#808!important}'],
    ['something hidden', 'footer{visibility:hidden}'],
  ]) {
    it(`would not miss ${what}`, async () => {
      assert.notEqual(difference(await picture(pages.house, 'light', more), await picture(pages.house, 'light')), '');
    });
  }
});
