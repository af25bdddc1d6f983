import { COLLECTION_FUNCTIONS } from './collections.ts';
import { type FunctionTable, withFunctions } from './define.ts';
import { NUMERIC_FUNCTIONS } from './numeric.ts';
import { TEMPORAL_FUNCTIONS } from './temporal.ts';
import { TEXT_FUNCTIONS } from './text.ts';

/** The functions of ISO/IEC 39075:2024 that are supported. */
export const STANDARD_FUNCTIONS: FunctionTable = withFunctions(new Map(), [
  ...NUMERIC_FUNCTIONS,
  ...TEXT_FUNCTIONS,
  ...TEMPORAL_FUNCTIONS,
  ...COLLECTION_FUNCTIONS,
]);
