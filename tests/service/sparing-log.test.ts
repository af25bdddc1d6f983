import { afterEach, expect, test, vi } from 'vitest';
import { CasebackError } from '../../src/model/problems.ts';
import { tellError } from '../../src/service/server/errors.ts';

afterEach(() => vi.useRealTimers());

function logging() {
  const lines: { readonly message: string; readonly times?: number; readonly requestId: string }[] = [];
  const error = ({ times, requestId }: { times?: number; requestId: string }, message: string) =>
    lines.push({ message, requestId, ...(times && { times }) });
  return { lines, log: { error } as unknown as Parameters<typeof tellError>[1] };
}
const away = (why: string) => new CasebackError('UNAVAILABLE', why);

test('while the store is away a line says so at once, then one every ten seconds with the number of refusals', () => {
  vi.useFakeTimers();
  const { lines, log } = logging();
  for (let i = 0; i < 500; i++) tellError(away('no database'), log, `r${i}`);
  expect(lines).toEqual([{ message: 'no database', requestId: 'r0' }]);
  vi.advanceTimersByTime(9_999);
  expect(lines.length).toBe(1);
  vi.advanceTimersByTime(1);
  expect(lines[1]).toEqual({ message: 'no database', requestId: 'r499', times: 499 });
  for (let i = 0; i < 3; i++) tellError(away('still none'), log, `s${i}`);
  vi.advanceTimersByTime(10_000);
  expect(lines[2]).toEqual({ message: 'still none', requestId: 's2', times: 3 });
  // Ten seconds without any, and the next is told at once again.
  vi.advanceTimersByTime(10_000);
  expect(lines.length).toBe(3);
  tellError(away('again'), log, 't');
  expect(lines[3]).toEqual({ message: 'again', requestId: 't' });
});

test('another code is told for itself, each log has its own, and what is unforeseen is always told', () => {
  vi.useFakeTimers();
  const [{ lines, log }, other] = [logging(), logging()];
  tellError(away('no database'), log, 'a');
  tellError(new CasebackError('DAMAGED_JOURNAL', 'broken'), log, 'b');
  tellError(away('no database'), other.log, 'c');
  for (const id of ['d', 'e']) tellError(new Error('a mistake'), log, id);
  expect(lines.map(({ requestId }) => requestId)).toEqual(['a', 'b', 'd', 'e']);
  expect(other.lines.map(({ requestId }) => requestId)).toEqual(['c']);
});
