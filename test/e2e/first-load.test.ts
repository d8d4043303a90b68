// The first visit, in a real browser, against the built page with the headers it is served with.

import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { expect } from 'vitest';
import { projectRoot } from '../../web/host/prepare.mjs';
import { headersFile } from '../../web/host/write-site-files.mjs';
import { keepingTest as test } from './harness.ts';

test('the page shows itself without an error, a policy violation or a foreign request', async ({
  visit,
  address,
}) => {
  const response = await visit.page.goto(address);
  expect(response?.status()).toBe(200);
  expect(response?.headers()['content-security-policy']).toContain("script-src 'self'");
  await visit.page.getByRole('heading', { level: 1 }).waitFor();
  await visit.page.waitForLoadState('networkidle');
  expect(await visit.page.getByRole('heading', { level: 1 }).textContent()).toMatch(/\S/);
  expect(visit.complaints).toEqual([]);
  expect(visit.foreignRequests).toEqual([]);
});

test('the first page needs no engine and little code', async ({ visit, address }) => {
  const { page } = visit;
  const scripts: Promise<Buffer>[] = [];
  page.on('response', (response) => {
    if (response.request().resourceType() === 'script') scripts.push(response.body());
  });
  await page.goto(address);
  await page.getByRole('link', { name: /six nights/ }).waitFor();
  const bodies = await Promise.all(scripts);
  expect(bodies.length).toBeGreaterThan(0);
  const packed = bodies.reduce((sum, body) => sum + gzipSync(body).length, 0);
  expect(packed).toBeLessThanOrEqual(60_000);
});

test('the witness sees an error, a blocked script and a foreign request', async ({
  visit,
  address,
}) => {
  await visit.page.goto(address);
  await visit.page.evaluate(() => {
    console.error('seen');
    const image = document.createElement('img');
    image.src = 'https://elsewhere.invalid/picture.png';
    document.body.append(image);
    setTimeout(() => {
      throw new Error('thrown');
    });
  });
  const seen = (part: string) => visit.complaints.some((complaint) => complaint.includes(part));
  await expect.poll(() => seen('console: seen')).toBe(true);
  await expect.poll(() => seen('uncaught: Error: thrown')).toBe(true);
  await expect.poll(() => seen('policy: img-src blocked https://elsewhere.invalid')).toBe(true);
  // The same server under its number is another origin.
  const elsewhere = address.replace('localhost', '127.0.0.1');
  await visit.page.goto(elsewhere);
  expect(visit.foreignRequests).toContain(elsewhere);
});

test('code made from text does not run', async ({ visit, address }) => {
  await visit.page.goto(address);
  // From a timer: what the test itself evaluates is exempt from the policy until its task ends.
  const outcome = await visit.page.evaluate(
    () =>
      new Promise<string>((resolve) => {
        setTimeout(() => {
          try {
            resolve(String(Reflect.construct(Function, ['return 1'])()));
          } catch (error) {
            resolve(error instanceof Error ? error.name : 'thrown');
          }
        });
      }),
  );
  expect(outcome).toBe('EvalError');
});

test('the built page brings the headers for hosts and the licences of what it is built from', () => {
  const text = readFileSync(`${projectRoot}dist/licences.txt`, 'utf8');
  for (const name of [
    'lit ',
    'mathjs ',
    'vega-lite ',
    'lean-qr ',
    '@codemirror/view ',
    'workbox',
  ]) {
    expect(text).toContain(name);
  }
  expect(text).toMatch(/SIL OPEN FONT LICENSE/i);
  expect(readFileSync(`${projectRoot}dist/_headers`, 'utf8')).toBe(headersFile());
});
