/** Functions of dates and times (ISO/IEC 39075:2024, 20.26 to 20.29, subclause numbers from memory but for 20.29). */
import type { TemporalType } from '../../language/ast.ts';
import { type DateTimeValue, readTemporal } from '../../language/temporal.ts';
import { durationBetween } from '../arithmetic.ts';
import type { Value } from '../value.ts';
import type { FunctionDefinition } from './define.ts';

/** The instant of the query, in UTC. */
function instant(now: number): DateTimeValue {
  const day = Math.floor(now / 86_400_000);
  return { kind: 'datetime', day, nanosecond: (now - day * 86_400_000) * 1e6, offset: 0 };
}

function current(
  name: string,
  result: 'date' | 'time' | 'datetime',
  doc: string,
  pick: (at: DateTimeValue) => Value,
) {
  return {
    name,
    parameters: [],
    result,
    doc: `${doc} Local means UTC here.`,
    standard: '20.26',
    fn: (_, { now }) => pick(instant(now)),
  } satisfies FunctionDefinition as FunctionDefinition;
}

function reading(
  name: string,
  type: TemporalType,
  doc: string,
  accept: (value: Exclude<Value, null>) => boolean,
  otherwise: ((at: DateTimeValue) => Value) | undefined,
): FunctionDefinition {
  return {
    name,
    parameters: [{ name: 'text', type: 'string', optional: otherwise !== undefined }],
    result: type.toLowerCase() as 'date' | 'time' | 'datetime' | 'duration',
    doc,
    standard: type === 'DURATION' ? '20.29' : '20.26',
    fn: ([text], { now }) => {
      if (text === undefined) return otherwise!(instant(now));
      const value = readTemporal(type, text as string);
      return value !== undefined && accept(value) ? value : null;
    },
  };
}

const date = (at: DateTimeValue): Value => ({ kind: 'date', day: at.day });
const time = (at: DateTimeValue, offset: 0 | undefined): Value => ({
  kind: 'time',
  nanosecond: at.nanosecond,
  offset,
});
const local = (at: DateTimeValue): Value => ({ ...at, offset: undefined });
const isZoned = (value: Exclude<Value, null>): boolean => (value as DateTimeValue).offset !== undefined;

export const TEMPORAL_FUNCTIONS: readonly FunctionDefinition[] = [
  current('CURRENT_DATE', 'date', 'The date of the query.', date),
  current('CURRENT_TIME', 'time', 'The time of the query.', (at) => time(at, 0)),
  current('CURRENT_TIMESTAMP', 'datetime', 'Date and time of the query.', (at) => at),
  current('LOCAL_TIMESTAMP', 'datetime', 'Date and time of the query without a zone.', local),
  reading(
    'DATE',
    'DATE',
    'The date that a text such as 2024-05-31 names; without text, that of the query.',
    () => true,
    date,
  ),
  reading(
    'LOCAL_TIME',
    'TIME',
    'The time that a text names, without a zone; without text, that of the query.',
    (v) => !isZoned(v),
    (at) => time(at, undefined),
  ),
  reading(
    'ZONED_TIME',
    'TIME',
    'The time with a zone that a text names; without text, that of the query.',
    isZoned,
    (at) => time(at, 0),
  ),
  reading(
    'LOCAL_DATETIME',
    'DATETIME',
    'Date and time that a text names, without a zone; without text, those of the query.',
    (v) => !isZoned(v),
    local,
  ),
  reading(
    'ZONED_DATETIME',
    'DATETIME',
    'Date and time with a zone that a text names; without text, those of the query.',
    isZoned,
    (at) => at,
  ),
  reading(
    'DURATION',
    'DURATION',
    'The duration that a text such as P1Y6M or P2DT3H names.',
    () => true,
    undefined,
  ),
  {
    name: 'DURATION_BETWEEN',
    parameters: [
      { name: 'from', type: ['date', 'time', 'datetime'] },
      { name: 'to', type: ['date', 'time', 'datetime'] },
    ],
    result: 'duration',
    doc: 'The days, hours, minutes and seconds from one date or time to another of its kind.',
    standard: '20.27',
    fn: ([from, to]) => durationBetween(from!, to!),
  },
];
