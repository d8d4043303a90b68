// A scenario's name and prose: what is written, what is refused, and that going back restores the bytes.

import { expect, test } from 'vitest';
import { applyEdit } from '../../../engine/notebook/edit.ts';
import { describeScenario, nameScenario } from '../../../engine/notebook/edit-scenario-words.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { writeNotebook } from '../../../engine/notebook/write-notebook.ts';

const TEXT = `dapple 1
title: T

panel = 100 W

scenario Grey    -- from the almanac
  | Cloud all day.
  panel = 40 W -- measured
scenario Last`;

for (const [ends, text] of [
  ['line feeds', TEXT],
  ['carriage returns', TEXT.replaceAll('\n', '\r\n')],
] as const) {
  const notebook = readNotebook(text);

  test(`a name is changed and changed back, with ${ends}`, () => {
    const edited = nameScenario(notebook, 'grey', 'Low cloud');
    expect(edited).toBeDefined();
    if (!edited) return;
    expect(writeNotebook(edited.notebook)).toContain('scenario Low cloud');
    expect(writeNotebook(edited.notebook)).toContain('-- from the almanac');
    expect(writeNotebook(applyEdit(edited.notebook, edited.inverse).notebook)).toBe(text);
  });

  test(`prose is put in, changed and taken away, with ${ends}`, () => {
    const end = text.includes('\r') ? '\r\n' : '\n';
    for (const [scenario, words] of [
      ['Grey', 'One line.\nAnother.'],
      ['Grey', ''],
      ['Last', 'At the end.'],
    ] as const) {
      const edited = describeScenario(notebook, scenario, words);
      expect(edited).toBeDefined();
      if (!edited) continue;
      const item = edited.notebook.items.find(
        (one) => one.kind === 'scenario' && one.name.text === scenario,
      );
      expect(item?.kind === 'scenario' && item.prose.map((one) => one.text).join('\n')).toBe(words);
      expect(writeNotebook(edited.notebook)).toContain('  panel = 40 W -- measured');
      expect(writeNotebook(applyEdit(edited.notebook, edited.inverse).notebook)).toBe(text);
    }
    const whole = describeScenario(notebook, 'Last', 'At the end.');
    expect(whole && writeNotebook(whole.notebook)).toBe(`${text}${end}  | At the end.`);
  });

  test(`names that are taken, empty or longer than a line are refused, with ${ends}`, () => {
    expect(nameScenario(notebook, 'Grey', 'LAST')).toBeUndefined();
    expect(nameScenario(notebook, 'Grey', '  ')).toBeUndefined();
    expect(nameScenario(notebook, 'Grey', 'a\nb')).toBeUndefined();
    expect(nameScenario(notebook, 'Grey', 'a -- b')).toBeUndefined();
    expect(nameScenario(notebook, 'None such', 'b')).toBeUndefined();
  });
}
