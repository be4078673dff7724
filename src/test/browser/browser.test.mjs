// The pages in a real browser: INDWELL_BASE=http://localhost:8080 node --test browser.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { after, before, describe, it } from 'node:test';
import { SHAPES, addresses, launch } from './browser.mjs';

const base = process.env.INDWELL_BASE ?? 'http://localhost:8080';
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let browser;
let pages;

before(async () => {
  browser = await launch();
  pages = await addresses(browser, base);
});
after(() => browser?.close());

async function looking(path, options, look) {
  const context = await browser.newContext(options);
  await context.addCookies([{ name: 'indwell-recorder', value: 'N-204', url: base }]);
  const page = await context.newPage();
  const complaints = [];
  page.on('console', (message) => ['error', 'warning'].includes(message.type()) && complaints.push(message.text()));
  await page.goto(base + path);
  try {
    await look(page, complaints);
  } finally {
    await context.close();
  }
}

const everyPage = async (look) => {
  for (const [name, path] of Object.entries(pages)) await look(name, path);
};

describe('pages in a browser', () => {
  it('finds a page of each kind', () => assert.deepEqual(Object.keys(pages).length, 8));

  for (const shape of Object.keys(SHAPES)) {
    it(`has no finding of axe, ${shape}, whatever is unfolded`, async () => {
      await everyPage((name, path) =>
        // axe itself is a script, which the policy of the pages refuses.
        looking(path, { ...SHAPES[shape], bypassCSP: true }, async (page) => {
          await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
          await page.evaluate(axe);
          const found = await page.evaluate(async () =>
            (await window.axe.run()).violations.map((one) => `${one.impact} ${one.id}: ${one.nodes[0].html.slice(0, 120)}`));
          assert.deepEqual(found, [], name);
        }));
    });

    it(`scrolls down only, ${shape}`, async () => {
      await everyPage((name, path) =>
        looking(path, SHAPES[shape], async (page) => {
          const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
          assert.equal(beyond, 0, name);
        }));
    });
  }

  it('is refused nothing by its own policy, and runs no script', async () => {
    await everyPage((name, path) =>
      looking(path, {}, async (page, complaints) => {
        assert.deepEqual(complaints.filter((text) => !text.includes('404')), [], name);
        assert.equal(await page.locator('script').count(), 0, name);
      }));
  });

  it('prints the demo ward and a record of an insertion on one sheet each', async () => {
    for (const name of ['house', 'insertion']) {
      await looking(pages[name], {}, async (page) => {
        const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
        assert.equal([...pdf.matchAll(/\/Type\s*\/Page\b/g)].length, 1, name);
      });
    }
  });

  it('is gone through by keyboard, the way past the top first', async () => {
    await looking(pages.house, SHAPES.light, async (page) => {
      await page.keyboard.press('Tab');
      assert.equal(await page.evaluate(() => document.activeElement.textContent), 'To the page itself');
      await page.keyboard.press('Enter');
      const seen = [];
      for (let i = 0; i < 12; i++) {
        await page.keyboard.press('Tab');
        seen.push(await page.evaluate(() => document.activeElement.tagName));
      }
      assert.ok(seen.every((tag) => ['A', 'SUMMARY', 'BUTTON', 'INPUT', 'SELECT'].includes(tag)), seen.join(' '));
    });
  });

  it('records in two presses without scripts, and takes it back', async () => {
    await looking(pages.ward, { ...SHAPES.phone, javaScriptEnabled: false }, async (page) => {
      await page.locator('.entry > summary').first().click();
      await page.locator('button[value=securement-changed]').first().click();
      assert.match(await page.locator('.told').textContent(), /Recorded for .*Securement change/s);
      assert.match(page.url(), /recorded=/);
      await page.reload();
      await page.locator('.told button').click();
      assert.match(await page.locator('.told').textContent(), /Taken back/);
    });
  });
});
