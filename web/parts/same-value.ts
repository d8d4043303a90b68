// Whether two pieces of plain data say the same. An edit makes snapshots and charts anew; what comes
// out as before is not drawn again.

/** Compares plain data by content: lists, records, numbers (absent equals absent), texts. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || ArrayBuffer.isView(a)) return sameList(a, b);
  if (Array.isArray(b)) return false;
  const names = Object.keys(a);
  if (names.length !== Object.keys(b).length) return false;
  return names.every((name) => name in b && sameValue(Reflect.get(a, name), Reflect.get(b, name)));
}

function sameList(a: object, b: object): boolean {
  const [left, right] = [a as ArrayLike<unknown>, b as ArrayLike<unknown>];
  if (left.length !== right.length) return false;
  for (let index = 0; index < left.length; index++) {
    if (!sameValue(left[index], right[index])) return false;
  }
  return true;
}
