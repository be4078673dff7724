// The browser, and where the pages are that are looked at.
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

/** Where Debian and others put it; CHROMIUM names another place. */
export const executable = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']
  .find((path) => path && existsSync(path));

export const SHAPES = {
  light: { viewport: { width: 1200, height: 900 }, colorScheme: 'light' },
  dark: { viewport: { width: 1200, height: 900 }, colorScheme: 'dark' },
  phone: { viewport: { width: 390, height: 844 }, colorScheme: 'light', hasTouch: true },
  // What is left of a window of 1280 by 1024 at twice the size (WCAG 2.2, 1.4.4 and 1.4.10).
  zoomed: { viewport: { width: 640, height: 512 }, colorScheme: 'light', deviceScaleFactor: 2 },
};

export const launch = () => chromium.launch({ executablePath: executable, args: ['--no-sandbox'] });

/** Addresses of one page of each kind, found by following links as a reader would. */
export async function addresses(browser, base) {
  const page = await (await browser.newContext()).newPage();
  const link = async (path, selector) => {
    await page.goto(base + path);
    const found = page.locator(selector).first();
    return (await found.count()) ? new URL(await found.getAttribute('href'), base).pathname : undefined;
  };
  const patient = (value) => link('/', `h2 a:text-is("${value}")`);
  const all = {
    house: '/',
    ward: await link('/', '.wards a:text-is("EAST-3")'),
    patient: (await patient('W-109')) ?? (await link('/', 'h2 a')),
    corrected: (await patient('W-108')) ?? (await link('/', 'h2 a')),
    insertion: await link('/', 'article:has(a:text-is("W-105")) .since a'),
    report: '/wards/EAST-3/report',
    'report-of-the-house': '/report',
    error: '/wards/NOWHERE',
  };
  await page.context().close();
  return Object.fromEntries(Object.entries(all).filter(([, path]) => path));
}
