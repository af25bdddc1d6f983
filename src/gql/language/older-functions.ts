/**
 * Functions of the dialect that many people know from graph databases, by what this language writes instead. Where it
 * has nothing, a way around.
 */

const NONE = 'GQL has no such function, and there is none here';

const FUNCTIONS: Readonly<Record<string, string>> = {
  ID: 'write ELEMENT_ID(x)',
  ELEMENTID: 'write ELEMENT_ID(x)',
  TYPE: 'ask r IS LABELED ROAD, or write the label in the pattern, as in -[r:ROAD]->; GQL has no function that answers labels',
  LABELS:
    'ask n IS LABELED Town, or write the label in the pattern, as in (n:Town); GQL has no function that answers labels',
  NODES: 'ELEMENTS(p) lists nodes and edges of a path; the nodes alone are those of the variables in it',
  EDGES:
    'ELEMENTS(p) lists nodes and edges of a path; the edges alone are a variable of a quantified edge, as in -[e]->{1,3}',
  RELATIONSHIPS:
    'ELEMENTS(p) lists nodes and edges of a path; the edges alone are a variable of a quantified edge, as in -[e]->{1,3}',
  RELS: 'ELEMENTS(p) lists nodes and edges of a path; the edges alone are a variable of a quantified edge, as in -[e]->{1,3}',
  LENGTH: 'write PATH_LENGTH(p) for a path, CHAR_LENGTH(text) for a text and SIZE(list) for a list',
  LEN: 'write CHAR_LENGTH(text) for a text and SIZE(list) for a list',
  COLLECT: 'write COLLECT_LIST(x)',
  TOUPPER: 'write UPPER(text)',
  UCASE: 'write UPPER(text)',
  TOLOWER: 'write LOWER(text)',
  LCASE: 'write LOWER(text)',
  TOSTRING: 'write CAST(x AS STRING)',
  TOSTRINGORNULL: 'write CAST(x AS STRING)',
  TOINTEGER: 'write CAST(x AS INTEGER)',
  TOINTEGERORNULL: 'write CAST(x AS INTEGER)',
  TOINT: 'write CAST(x AS INTEGER)',
  TOFLOAT: 'write CAST(x AS FLOAT)',
  TOFLOATORNULL: 'write CAST(x AS FLOAT)',
  TOBOOLEAN: 'write CAST(x AS BOOLEAN)',
  TOBOOLEANORNULL: 'write CAST(x AS BOOLEAN)',
  SUBSTRING:
    'write LEFT(text, n) for its beginning and RIGHT(text, n) for its end; RIGHT(LEFT(text, 5), 2) is in the middle',
  SUBSTR:
    'write LEFT(text, n) for its beginning and RIGHT(text, n) for its end; RIGHT(LEFT(text, 5), 2) is in the middle',
  REPLACE: `${NONE}; compare beginnings and ends with LEFT(text, n) and RIGHT(text, n)`,
  SPLIT: `${NONE}; keep what is to be compared apart as a list`,
  REVERSE: NONE,
  HEAD: 'GQL has no list item by position; take MIN or MAX of the rows, or ORDER BY and LIMIT 1',
  LAST: 'GQL has no list item by position; take MIN or MAX of the rows, or ORDER BY and LIMIT 1',
  TAIL: `${NONE}; TRIM(list, n) leaves off the last n items`,
  RANGE: 'write the list out, as in [1, 2, 3], or two comparisons, as in x >= 1 AND x <= 5',
  KEYS: 'ask for one name with PROPERTY_EXISTS(n, name); GQL has no function that answers them all',
  PROPERTIES:
    'return what is wanted by name, as in n.name, n.size; GQL has no function that answers them all',
  STARTNODE:
    'name the ends in the pattern, as in (a)-[r]->(b): a is where r begins; a IS SOURCE OF r asks for it',
  ENDNODE:
    'name the ends in the pattern, as in (a)-[r]->(b): b is where r ends; b IS DESTINATION OF r asks for it',
  RAND: `${NONE}: an answer does not depend on chance`,
  RANDOMUUID: `${NONE}: an answer does not depend on chance`,
  ROUND: 'write FLOOR(x + 0.5)',
  SIGN: 'write CASE WHEN x > 0 THEN 1 WHEN x < 0 THEN -1 ELSE 0 END',
  PI: 'write RADIANS(180)',
  E: 'write EXP(1)',
  ATAN2: 'write ATAN(y / x), and look at the signs',
  HAVERSIN: 'write (1 - COS(x)) / 2',
  LTRIM: 'write TRIM(LEADING FROM text)',
  RTRIM: 'write TRIM(TRAILING FROM text)',
  PERCENTILECONT: 'write PERCENTILE_CONT(x, fraction)',
  PERCENTILEDISC: 'write PERCENTILE_DISC(x, fraction)',
  STDEV: 'write STDDEV_SAMP(x)',
  STDEVP: 'write STDDEV_POP(x)',
  ISEMPTY: 'write SIZE(list) = 0',
  IFNULL: 'write COALESCE(x, otherwise)',
  ISNULL: 'write x IS NULL, or COALESCE(x, otherwise)',
  NVL: 'write COALESCE(x, otherwise)',
  CONCAT: 'write text || text',
  DISTANCE: NONE,
  POINT: `${NONE}; keep coordinates as properties of their own`,
  DEGREE: 'match the edges and count them, as in OPTIONAL MATCH (n)-[r]-() RETURN n, COUNT(r)',
  TIMESTAMP: "write CURRENT_TIMESTAMP, or TIMESTAMP '2024-05-31T08:00:00Z'",
  NOW: 'write CURRENT_TIMESTAMP',
  DATETIME:
    "write ZONED_DATETIME('2024-05-31T08:00:00Z') or DATETIME '2024-05-31T08:00:00Z'; now is CURRENT_TIMESTAMP",
  LOCALDATETIME: "write LOCAL_DATETIME('2024-05-31T08:00:00'); now is LOCAL_TIMESTAMP",
  LOCALTIME: "write LOCAL_TIME('08:00:00'); now is LOCAL_TIME",
  TIME: "write ZONED_TIME('08:00:00Z') or TIME '08:00:00'; now is CURRENT_TIME",
  SHORTESTPATH: 'write ANY SHORTEST before the path',
  ALLSHORTESTPATHS: 'write ALL SHORTEST before the path',
  VALUETYPE: NONE,
  FILE: NONE,
  LINENUMBER: NONE,
};

/** What to write instead of a function, for the functions of the older dialect; without a full stop. */
export function insteadOfFunction(name: string): string | undefined {
  const upper = name.toUpperCase();
  return Object.hasOwn(FUNCTIONS, upper) ? FUNCTIONS[upper] : undefined;
}
