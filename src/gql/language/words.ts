/**
 * Words with a meaning. GQL reserves more than this subset needs; a word that only GQL reserves may still be used
 * as a name here, with a warning that the text would need delimiters elsewhere.
 */

/** Words that the grammar below needs and that can therefore not be names unless delimited. */
export const STRUCTURAL_WORDS = [
  'ALL',
  'ALL_DIFFERENT',
  'AND',
  'AS',
  'BOTH',
  'BY',
  'CASE',
  'CAST',
  'DISTINCT',
  'ELSE',
  'END',
  'EXISTS',
  'FALSE',
  'FROM',
  'GROUP',
  'IN',
  'IS',
  'LEADING',
  'LIMIT',
  'MATCH',
  'NOT',
  'NULL',
  'OFFSET',
  'OPTIONAL',
  'OR',
  'ORDER',
  'PROPERTY_EXISTS',
  'RETURN',
  'SAME',
  'SKIP',
  'THEN',
  'TRAILING',
  'TRIM',
  'TRUE',
  'UNKNOWN',
  'WHEN',
  'WHERE',
  'XOR',
] as const;

/** Words with a meaning in one place only; names everywhere else. */
export const CONTEXTUAL_WORDS = [
  'ACYCLIC',
  'ANY',
  'ASC',
  'ASCENDING',
  'BINDINGS',
  'DESC',
  'DESCENDING',
  'DESTINATION',
  'DIFFERENT',
  'DIRECTED',
  'EDGE',
  'EDGES',
  'ELEMENT',
  'ELEMENTS',
  'EXCEPT',
  'FILTER',
  'FIRST',
  'FOR',
  'GROUPS',
  'INTERSECT',
  'LABELED',
  'LAST',
  'LET',
  'NEXT',
  'NULLS',
  'OF',
  'ORDINALITY',
  'OTHERWISE',
  'PATH',
  'PATHS',
  'RECORD',
  'RELATIONSHIP',
  'RELATIONSHIPS',
  'REPEATABLE',
  'SHORTEST',
  'SIMPLE',
  'SOURCE',
  'TRAIL',
  'UNION',
  'VALUE',
  'WALK',
  'WITH',
] as const;

/**
 * The reserved words of ISO/IEC 39075:2024, 21.3, after the grammar published by the language's editors
 * (opengql/grammar, GQL.g4), less the pre-reserved ones. STRUCTURAL_WORDS are among them.
 */
export const RESERVED_WORDS: ReadonlySet<string> = new Set(
  `ABS ACOS ALL ALL_DIFFERENT AND ANY ARRAY AS ASC ASCENDING ASIN AT ATAN AVG BIG BIGINT BINARY BOOL BOOLEAN BOTH
  BTRIM BY BYTE_LENGTH BYTES CALL CARDINALITY CASE CAST CEIL CEILING CHAR CHAR_LENGTH CHARACTER_LENGTH
  CHARACTERISTICS CLOSE COALESCE COLLECT_LIST COMMIT COPY COS COSH COT COUNT CREATE CURRENT_DATE CURRENT_GRAPH
  CURRENT_PROPERTY_GRAPH CURRENT_SCHEMA CURRENT_TIME CURRENT_TIMESTAMP DATE DATETIME DAY DEC DECIMAL DEGREES DELETE
  DESC DESCENDING DETACH DISTINCT DOUBLE DROP DURATION DURATION_BETWEEN ELEMENT_ID ELSE END EXCEPT EXISTS EXP FALSE
  FILTER FINISH FLOAT FLOAT16 FLOAT32 FLOAT64 FLOAT128 FLOAT256 FLOOR FOR FROM GROUP HAVING HOME_GRAPH
  HOME_PROPERTY_GRAPH HOME_SCHEMA HOUR IF IMPLIES IN INSERT INT INTEGER INT8 INTEGER8 INT16 INTEGER16 INT32
  INTEGER32 INT64 INTEGER64 INT128 INTEGER128 INT256 INTEGER256 INTERSECT INTERVAL IS LEADING LEFT LET LIKE LIMIT
  LIST LN LOCAL LOCAL_DATETIME LOCAL_TIME LOCAL_TIMESTAMP LOG LOG10 LOWER LTRIM MATCH MAX MIN MINUTE MOD MONTH NEXT
  NODETACH NORMALIZE NOT NOTHING NULL NULLS NULLIF OCTET_LENGTH OF OFFSET OPTIONAL OR ORDER OTHERWISE PARAMETER
  PARAMETERS PATH PATH_LENGTH PATHS PERCENTILE_CONT PERCENTILE_DISC POWER PRECISION PROPERTY_EXISTS RADIANS REAL
  RECORD REMOVE REPLACE RESET RETURN RIGHT ROLLBACK RTRIM SAME SCHEMA SECOND SELECT SESSION SESSION_USER SET SIGNED
  SIN SINH SIZE SKIP SMALL SMALLINT SQRT START STDDEV_POP STDDEV_SAMP STRING SUM TAN TANH THEN TIME TIMESTAMP
  TRAILING TRIM TRUE TYPED UBIGINT UINT UINT8 UINT16 UINT32 UINT64 UINT128 UINT256 UNION UNKNOWN UNSIGNED UPPER USE
  USMALLINT VALUE VARBINARY VARCHAR VARIABLE WHEN WHERE WITH XOR YEAR YIELD ZONED ZONED_DATETIME ZONED_TIME`
    .split(/\s+/)
    .filter((word) => word !== ''),
);

/** Functions that are written without parentheses. */
export const BARE_FUNCTIONS: ReadonlySet<string> = new Set([
  'CURRENT_DATE',
  'CURRENT_TIME',
  'CURRENT_TIMESTAMP',
  'LOCAL_TIME',
  'LOCAL_TIMESTAMP',
]);

/**
 * Words that begin something which GQL has and this subset leaves out, with what to do instead. Met where they
 * cannot stand, they are answered with this rather than with a list of expected words.
 */
export const LEFT_OUT: Readonly<Record<string, string>> = {
  CALL: 'CALL is not part of the supported read-only subset',
  CREATE: 'CREATE changes data; patterns only read',
  DELETE: 'DELETE changes data; patterns only read',
  DETACH: 'DETACH DELETE changes data; patterns only read',
  DROP: 'DROP changes data; patterns only read',
  FINISH: 'FINISH is not part of the supported subset; write RETURN',
  HAVING: 'HAVING is not part of the supported subset',
  INSERT: 'INSERT changes data; patterns only read',
  KEEP: 'KEEP is not part of the supported subset; put the path mode before each path',
  LIKE: 'GQL reserves LIKE but has no such predicate; compare with LEFT(text, n) or RIGHT(text, n)',
  REMOVE: 'REMOVE changes data; patterns only read',
  SELECT: 'SELECT is not part of the supported subset; write MATCH … RETURN …',
  SESSION: 'Session commands are not part of the supported subset',
  SET: 'SET changes data; patterns only read',
  TEMP: 'TEMP variables are not part of the supported subset',
  TYPED: 'Value type predicates are not part of the supported subset',
  NORMALIZED: 'IS NORMALIZED is not part of the supported subset; compare with NORMALIZE(text)',
  USE: 'USE is not part of the supported subset; there is one graph',
  WITH: 'GQL has no WITH clause; hand rows on with RETURN … NEXT, name values with LET, or write one more MATCH',
  YIELD: 'YIELD is not part of the supported subset; name what you want in RETURN',
};
