// How many random cases a test tries: a share as a rule, all that the environment asks for by hand
// (`CASES=100000 npx vitest run --project unit test/web`).

export function testCases(usual: number): number {
  const wanted = Number(process.env.CASES ?? '');
  return Number.isInteger(wanted) && wanted > 0 ? wanted : usual;
}
