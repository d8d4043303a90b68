// axe-core in a page of a test: the rules of WCAG 2.2 A and AA and its best practices.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Finding {
  readonly id: string;
  readonly nodes: readonly {
    readonly target: readonly string[];
    readonly failureSummary?: string;
  }[];
}

/** What axe finds on the page as it stands: one line a rule and place. */
export async function axeFindings(
  page: Page,
  rules?: readonly string[],
  within = 'html',
): Promise<readonly string[]> {
  if (!(await page.evaluate(() => Reflect.has(window, 'axe')))) await page.evaluate(AXE);
  const found = await page.evaluate(
    async ({ only, place }) => {
      const axe: unknown = Reflect.get(window, 'axe');
      const run: unknown = Reflect.get(Object(axe), 'run');
      if (typeof run !== 'function') throw new Error('axe is not there');
      // What still fades in has not its colours yet.
      const moving = document
        .getAnimations()
        .filter(({ effect }) => Number.isFinite(effect?.getComputedTiming().endTime));
      await Promise.allSettled(moving.map(({ finished }) => finished));
      const options = {
        resultTypes: ['violations'],
        preload: false,
        ...(only ? { runOnly: { type: 'rule', values: [...only] } } : {}),
      };
      const result: unknown = await run.call(axe, place, options);
      return Reflect.get(Object(result), 'violations') as readonly Finding[];
    },
    { only: rules, place: within },
  );
  return found.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id} ${target.join(' ')} ${failureSummary ?? ''}`),
  );
}

const LIGHTS = ['light', 'dark', 'red'] as const;

/** The same in each light; what does not depend on colours is looked at once. */
export async function axeFindingsInEachLight(
  page: Page,
  within = 'html',
  lights: readonly (typeof LIGHTS)[number][] = LIGHTS,
): Promise<readonly string[]> {
  const found: string[] = [];
  const chosen = await page.evaluate(() => document.documentElement.dataset.theme ?? 'light');
  for (const [index, light] of lights.entries()) {
    await page.evaluate((name) => {
      document.documentElement.dataset.theme = name;
    }, light);
    const rules = index === 0 ? undefined : ['color-contrast'];
    for (const line of await axeFindings(page, rules, within)) found.push(`${light}: ${line}`);
  }
  await page.evaluate((name) => {
    document.documentElement.dataset.theme = name;
  }, chosen);
  return found;
}
