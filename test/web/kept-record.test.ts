// Records read back from a device are trusted in nothing, and earlier versions are thinned and
// compared: checked on random input, including the text they must give back unharmed.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Kept,
  readJournalled,
  readKept,
  readVersion,
  type Version,
} from '../../web/keep/kept-record.ts';
import { changedLines, VERSIONS_LARGEST, versionsToDrop } from '../../web/keep/versions.ts';
import { reportText, troubleOf } from '../../web/parts/report.ts';

/** 10⁵ by hand: `RUNS=100000 npx vitest run --project unit test/web/kept-record.test.ts`. */
const numRuns = Number(process.env.RUNS ?? 500);

const keptFields = ['id', 'title', 'text', 'headline', 'when', 'deleted', 'why'] as const;

/** Anything a record may have become: missing fields, fields of any kind, no record at all. */
const damaged = fc.oneof(
  fc.anything(),
  fc.record(Object.fromEntries(keptFields.map((field) => [field, fc.anything()])), {
    requiredKeys: [],
  }),
  fc.record({ id: fc.string(), text: fc.string(), when: fc.double(), title: fc.anything() }),
);

const whole: fc.Arbitrary<Kept> = fc.record({
  id: fc.string({ minLength: 1 }),
  title: fc.string(),
  text: fc.string({ unit: 'binary' }),
  headline: fc.string(),
  when: fc.integer({ min: 1, max: 4e12 }),
});

test('a whole record comes back as it was', () => {
  fc.assert(
    fc.property(whole, (record) => {
      expect(readKept(structuredClone(record))).toEqual(record);
    }),
    { numRuns },
  );
});

test('a damaged record gives a notebook that can be shown, or none', () => {
  fc.assert(
    fc.property(damaged, (record) => {
      const kept = readKept(record);
      const fields = Object(record) as Record<string, unknown>;
      const hasText = typeof fields.text === 'string' && typeof fields.id === 'string';
      if (!hasText || fields.id === '' || typeof record !== 'object') {
        expect(kept).toBeUndefined();
        return;
      }
      expect(kept?.text).toBe(fields.text);
      expect(typeof kept?.title).toBe('string');
      expect(Number.isFinite(new Date(kept?.when ?? Number.NaN).getTime())).toBe(true);
    }),
    { numRuns },
  );
});

test('a version is read with a date that can be shown, or not at all', () => {
  fc.assert(
    fc.property(damaged, (record) => {
      const version = readVersion(record);
      if (version === undefined) return;
      expect(version.when).toBeGreaterThan(0);
      expect(Number.isFinite(new Date(version.when).getTime())).toBe(true);
      expect(['opened', 'edited', 'restored', 'set aside']).toContain(version.why);
    }),
    { numRuns },
  );
});

test('a journal entry cut anywhere gives the whole record or none', () => {
  fc.assert(
    fc.property(whole, fc.nat(), (record, cut) => {
      const text = JSON.stringify(record);
      expect(readJournalled(text)?.text).toBe(JSON.parse(text).text);
      const at = cut % text.length;
      expect(readJournalled(text.slice(0, at))).toBeUndefined();
    }),
    { numRuns },
  );
});

test('thinning keeps the newest, all of the last hour and one of every older span', () => {
  const now = Date.UTC(2026, 6, 1, 12);
  const minute = 60_000;
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 400 * 24 * 60 })), (ages) => {
      const versions: readonly Version[] = ages.map((age) => ({
        id: 'a',
        when: now - age * minute,
        text: 'x',
        headline: '',
        why: 'edited',
      }));
      const dropped = new Set(versionsToDrop(versions, now));
      const stay = versions.filter((version) => !dropped.has(version));
      const ageOf = (version: Version): number => (now - version.when) / minute;
      expect(stay.filter((version) => ageOf(version) <= 60)).toHaveLength(
        ages.filter((age) => age <= 60).length,
      );
      // Whatever is dropped, an older one less than its own span away is left.
      for (const version of dropped) {
        const age = ageOf(version);
        const span = age <= 24 * 60 ? 60 : age <= 30 * 24 * 60 ? 24 * 60 : 30 * 24 * 60;
        const near = stay.some((one) => ageOf(one) >= age && ageOf(one) - age < span);
        expect(near, `${age} minutes old`).toBe(true);
      }
      // 60 of the last hour, 24 hours, 30 days and 14 months, and one for each edge.
      expect(stay.length).toBeLessThanOrEqual(61 + 25 + 31 + 15);
    }),
    { numRuns: Math.min(numRuns, 2000) },
  );
});

test('versions that are too large go, the oldest first, never the newest', () => {
  const text = 'x'.repeat(VERSIONS_LARGEST / 2);
  const versions: readonly Version[] = [1, 2, 3, 4].map((when) => ({
    id: 'a',
    when,
    text,
    headline: '',
    why: 'edited',
  }));
  expect(versionsToDrop(versions, 4).map(({ when }) => when)).toEqual([1, 2]);
  const [only] = [
    { id: 'a', when: 1, text: text + text + text, headline: '', why: 'edited' },
  ] as const;
  expect(versionsToDrop([only], 4)).toEqual([]);
});

test('changed lines spell both texts', () => {
  const lines = fc
    .array(fc.constantFrom('a = 1 W', 'b = 2 V', '', '# Day', 'c = a / b'), { maxLength: 30 })
    .map((all) => all.join('\n'));
  fc.assert(
    fc.property(lines, lines, (before, after) => {
      const changes = changedLines(before, after);
      const side = (kind: 'gone' | 'new'): string =>
        changes
          .filter((line) => line.kind === 'same' || line.kind === kind)
          .map((line) => line.text)
          .join('\n');
      expect(side('gone')).toBe(before);
      expect(side('new')).toBe(after);
    }),
    { numRuns },
  );
  expect(changedLines('a\nb\nc', 'a\nx\nc').map(({ kind }) => kind)).toEqual([
    'same',
    'gone',
    'new',
    'same',
  ]);
});

test('a report has no words of the notebook unless they are handed in', () => {
  const trouble = troubleOf('working', new RangeError('No place for “owl box” in "the clearing"'));
  const without = reportText(trouble, 'Browser 1');
  expect(without).not.toMatch(/owl box|clearing/);
  expect(without).toContain('Browser 1');
  expect(without).toContain('RangeError');
  expect(reportText(trouble, 'Browser 1', 'owl box = 3 W')).toContain('owl box = 3 W');
});
