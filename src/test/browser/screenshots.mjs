// Takes the pictures of docs/ from a running service with the demo ward.
// Usage: node screenshots.mjs http://localhost:8080 FOLDER   (FOLDER is docs). seed-year.mjs before it gives the charts something to draw.
import { mkdirSync } from 'node:fs';
import { SHAPES, addresses, launch } from './browser.mjs';

const [base = 'http://localhost:8080', folder = 'docs'] = process.argv.slice(2);
const browser = await launch();
const pages = await addresses(browser, base);
mkdirSync(`${folder}/screenshots`, { recursive: true });

async function picture(path, shape, file, { staff, open, whole = true } = {}) {
  const context = await browser.newContext({ ...SHAPES[shape], deviceScaleFactor: 1 });
  if (staff) await context.addCookies([{ name: 'indwell-recorder', value: staff, url: base }]);
  const page = await context.newPage();
  await page.goto(base + path);
  if (open) await page.locator(open).first().click();
  await page.screenshot({ path: `${folder}/${file}`, fullPage: whole });
  await context.close();
}

const staff = 'N-204';
await picture(pages.house, 'light', 'ward-page.png', { staff, whole: false });
await picture(pages.ward, 'dark', 'screenshots/ward-dark.png', { staff });
await picture(pages.ward, 'phone', 'screenshots/ward-phone.png', { staff, whole: false });
await picture(pages.ward, 'light', 'screenshots/ward-record.png', { staff, open: '.entry summary', whole: false });
await picture(pages.patient, 'light', 'screenshots/patient.png');
await picture(pages.corrected, 'dark', 'screenshots/patient-corrected-dark.png');
await picture(pages.insertion, 'light', 'screenshots/insertion.png');
await picture(pages.report, 'light', 'screenshots/report.png');
await picture(pages['report-of-the-house'], 'dark', 'screenshots/report-of-the-house-dark.png');
await browser.close();
