// Takes out of the build what `left-out.mjs` names: a function keeps its name and says that it was left
// out when it is called after all; a class and a table of functions become empty; packages of which
// nothing is used become such functions whole. What only they called goes with them.

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { LEFT_OUT, LEFT_OUT_PACKAGES } from './left-out.mjs';

const STAND_IN = '\0left-out';
const SAY = `function leftOut(name) { throw new RangeError(name + ' is left out of this build'); }`;

/** The package that a file of node_modules belongs to: the innermost one. */
function packageOf(/** @type {string} */ file) {
  return file.match(/.*\/node_modules\/((?:@[^/]+\/)?[^/]+)\//u)?.[1] ?? '';
}

/**
 * vega-embed gives both libraries on and adds what embeds a picture in a page, with a menu, a tooltip
 * and other people's themes. Only the first is used.
 */
const EMBED = `export * as vega from 'vega';\nexport * as vegaLite from 'vega-lite';\n`;

/**
 * @param {string} code of a package's file
 * @param {ReadonlySet<string>} names
 * @param {any} tree of that code
 * @returns {string}
 */
export function withoutNames(code, names, tree) {
  const left = new Set(names);
  /** @type {{ start: number, end: number, text: string }[]} */
  const changes = [];
  const body = (/** @type {any} */ block, /** @type {string} */ name) => {
    left.delete(name);
    changes.push({ start: block.start, end: block.end, text: `{ leftOut('${name}'); }` });
  };
  for (const statement of tree.body) {
    const declared = statement.declaration ?? statement;
    if (declared.type === 'FunctionDeclaration' && names.has(declared.id.name)) {
      body(declared.body, declared.id.name);
    } else if (declared.type === 'ClassDeclaration') {
      const { name } = declared.id;
      if (names.has(name)) {
        left.delete(name);
        changes.push({ start: declared.start, end: declared.end, text: `class ${name} {}` });
      } else {
        for (const member of declared.body.body) {
          const own = `${name}.${member.key?.name}`;
          if (member.value?.body && names.has(own)) body(member.value.body, own);
        }
      }
    } else if (declared.type === 'VariableDeclaration') {
      for (const { id, init } of declared.declarations) {
        if (!names.has(id.name)) continue;
        left.delete(id.name);
        if (init.body?.type === 'BlockStatement') body(init.body, id.name);
        else changes.push({ start: init.start, end: init.end, text: '{}' });
      }
    } else if (declared.type === 'ExpressionStatement') {
      // What is hung on a class that is left out: `inherits(Name, …)`, `Name.Definition = …`.
      const { expression } = declared;
      const inherits = expression.callee?.name === 'inherits' && expression.arguments[0]?.name;
      const owner =
        inherits || expression.left?.object?.object?.name || expression.left?.object?.name;
      if (names.has(owner)) changes.push({ start: declared.start, end: declared.end, text: '' });
    }
  }
  if (left.size > 0) throw new Error(`not there to be left out: ${[...left].join(', ')}`);
  let out = code;
  for (const { start, end, text } of changes.toSorted((a, b) => b.start - a.start)) {
    out = out.slice(0, start) + text + out.slice(end);
  }
  return `${out}\n${SAY}\n`;
}

/** The names that a package's file gives away. */
function givenBy(/** @type {any} */ tree) {
  return tree.body.flatMap((/** @type {any} */ statement) =>
    statement.type === 'ExportNamedDeclaration'
      ? statement.specifiers.map((/** @type {any} */ one) => one.exported.name)
      : [],
  );
}

/**
 * @param {string} projectRoot
 * @returns {import('vite').Plugin}
 */
export function leaveOut(projectRoot) {
  const parts = resolve(projectRoot, 'web/host/vega-parts.mjs');
  const plainText = resolve(projectRoot, 'web/host/plain-text.mjs');
  return {
    name: 'leave-out',
    enforce: 'pre',
    async resolveId(source, importer) {
      if (source === 'vega' && importer !== parts) return parts;
      if (source === '@codemirror/language') return plainText;
      // Vega-Lite brings the parser of expressions a second time.
      if (source === 'vega-expression') return this.resolve(source, parts, { skipSelf: true });
      if (LEFT_OUT_PACKAGES.includes(source)) {
        const found = await this.resolve(source, importer, { skipSelf: true });
        return found && `${STAND_IN}:${found.id}`;
      }
      return null;
    },
    load(id) {
      if (!id.startsWith(STAND_IN)) return null;
      const names = givenBy(this.parse(readFileSync(id.slice(STAND_IN.length + 1), 'utf8')));
      const stands = names.map(
        (/** @type {string} */ name) => `export function ${name}() { leftOut('${name}'); }`,
      );
      return [SAY, ...stands].join('\n');
    },
    transform(code, id) {
      const owner = packageOf(id);
      if (owner === 'vega-embed') return { code: EMBED, map: null };
      const names = LEFT_OUT[owner];
      if (!names) return null;
      return { code: withoutNames(code, new Set(names), this.parse(code)), map: null };
    },
  };
}
