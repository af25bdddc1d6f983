/**
 * Texts in the dialect that many people know from graph databases and that this language does not read, written from
 * general knowledge of that dialect, with what a message about them has to say: the construct by name, and what GQL
 * writes instead, or that there is nothing here and a way around.
 */

export interface Refused {
  /** Words that name what the writer used. */
  readonly names: readonly string[];
  /** Words of what to write instead. */
  readonly advises: readonly string[];
  /** What the marked part of the text holds, unless that is the first of the names. */
  readonly marks?: string;
  readonly texts: readonly string[];
}

const CHANGES = ['patterns only read'];

export const REFUSED: readonly Refused[] = [
  {
    names: ['UNWIND'],
    advises: ['FOR x IN list'],
    texts: [
      'UNWIND [1, 2, 3] AS x RETURN x',
      'UNWIND $ids AS x MATCH (n {id: x}) RETURN n',
      'MATCH (n) UNWIND n.tags AS x RETURN x, count(*)',
      'unwind $rows as x return x.name',
      'MATCH p = (a)-[]->(b) UNWIND ELEMENTS(p) AS x RETURN x',
      'UNWIND [[1, 2], [3]] AS x UNWIND x AS y RETURN y',
      'MATCH (n) UNWIND range(1, 3) AS x RETURN n, x',
    ],
  },
  {
    names: ['WITH'],
    advises: ['NEXT', 'LET', 'FILTER'],
    texts: [
      'MATCH (n) WITH n RETURN n',
      'MATCH (n:Town) WITH n, count(*) AS c WHERE c > 1 RETURN n',
      'MATCH (n) WITH DISTINCT n.name AS name RETURN name',
      'MATCH (n) WITH n ORDER BY n.age DESC LIMIT 3 MATCH (n)-[]->(m) RETURN m',
      'MATCH (n) WITH * WHERE n.age > 3 RETURN n',
      'WITH 1 AS one RETURN one',
      'MATCH (a)-[:ROAD]->(b) WITH a, collect(b) AS bs RETURN a, size(bs)',
      'match (n) with n.name as name return name',
      'MATCH (n) WITH n SKIP 2 LIMIT 5 RETURN n',
      'MATCH (a) WITH a.x + 1 AS y MATCH (b {x: y}) RETURN b',
    ],
  },
  {
    names: ['CREATE'],
    advises: CHANGES,
    texts: [
      'CREATE (n:Town {name: "Ash"})',
      'CREATE (a)-[:ROAD]->(b) RETURN a',
      'MATCH (a), (b) CREATE (a)-[:ROAD {km: 3}]->(b)',
      'create (n) return n',
      'CREATE INDEX FOR (n:Town) ON (n.name)',
      'CREATE CONSTRAINT one FOR (n:Town) REQUIRE n.id IS UNIQUE',
      'MATCH (n) WHERE n.x = 1 CREATE (m {x: n.x}) RETURN m',
    ],
  },
  {
    names: ['MERGE'],
    advises: CHANGES,
    texts: [
      'MERGE (n:Town {id: 1}) RETURN n',
      'MERGE (n:Town {id: 1}) ON CREATE SET n.new = true ON MATCH SET n.seen = 2 RETURN n',
      'MATCH (a), (b) MERGE (a)-[r:ROAD]->(b) RETURN r',
      'merge (n) return n',
    ],
  },
  {
    names: ['SET'],
    advises: CHANGES,
    texts: [
      'MATCH (n) SET n.x = 1',
      'MATCH (n) SET n.x = 1, n.y = 2 RETURN n',
      'MATCH (n) SET n += {x: 1}',
      'MATCH (n) SET n:Port RETURN n',
      'MATCH (n {id: 1}) set n = $props return n',
    ],
  },
  {
    names: ['DELETE'],
    advises: CHANGES,
    texts: [
      'MATCH (n) DELETE n',
      'MATCH (n) DETACH DELETE n',
      'MATCH ()-[r]->() DELETE r',
      'match (n) detach delete n',
    ],
  },
  {
    names: ['REMOVE'],
    advises: CHANGES,
    texts: [
      'MATCH (n) REMOVE n.x',
      'MATCH (n) REMOVE n:Town RETURN n',
      'MATCH (n) REMOVE n.x, n.y RETURN n.z',
    ],
  },
  { names: ['DROP'], advises: CHANGES, texts: ['DROP INDEX town_name', 'DROP CONSTRAINT one IF EXISTS'] },
  {
    names: ['INSERT'],
    advises: CHANGES,
    texts: ['INSERT (n:Town {name: "x"})', 'MATCH (a) INSERT (a)-[:ROAD]->(b)'],
  },
  {
    names: ['FOREACH'],
    advises: CHANGES,
    texts: [
      'MATCH p = (a)-[]->(b) FOREACH (n IN nodes(p) | SET n.seen = true)',
      'FOREACH (x IN [1, 2] | CREATE (:Town {id: x}))',
    ],
  },
  {
    names: ['LOAD CSV'],
    advises: ['read only the graph'],
    texts: [
      "LOAD CSV FROM 'file:///towns.csv' AS row RETURN row",
      "LOAD CSV WITH HEADERS FROM 'towns.csv' AS row RETURN row.name",
    ],
  },
  {
    names: ['LOAD CSV'],
    marks: 'USING PERIODIC',
    advises: ['read only the graph'],
    texts: ["USING PERIODIC COMMIT 500 LOAD CSV WITH HEADERS FROM 'x.csv' AS row RETURN row"],
  },
  {
    names: ['CALL'],
    advises: ['no procedures'],
    texts: [
      'CALL db.labels()',
      'CALL db.labels() YIELD label RETURN label',
      'MATCH (n) CALL tools.expand(n, 3) YIELD path RETURN path',
      'call dbms.components()',
    ],
  },
  {
    names: ['CALL'],
    advises: ['EXISTS {', 'OPTIONAL {'],
    texts: [
      'MATCH (n) CALL { WITH n MATCH (n)-[]->(m) RETURN count(m) AS c } RETURN n, c',
      'CALL { MATCH (n) RETURN n UNION MATCH (m) RETURN m } RETURN 1',
      'MATCH (n) CALL (n) { MATCH (n)-[]->(m) RETURN m } RETURN m',
    ],
  },
  {
    names: ['EXPLAIN'],
    advises: ['--explain'],
    texts: ['EXPLAIN MATCH (n) RETURN n', 'explain match (n:Town) return n.name'],
  },
  {
    names: ['PROFILE'],
    advises: ['--explain'],
    texts: ['PROFILE MATCH (n) RETURN n', 'profile MATCH (a)-[]->(b) RETURN a'],
  },
  {
    names: ['USING'],
    advises: ['plan is chosen'],
    texts: [
      'MATCH (n:Town) USING INDEX n:Town(name) WHERE n.name = "x" RETURN n',
      'MATCH (n:Town) USING SCAN n:Town WHERE n.x = 1 RETURN n',
      'MATCH (a)-[]->(b) USING JOIN ON a RETURN b',
    ],
  },
  {
    names: ['START'],
    advises: ['MATCH'],
    texts: ['START n=node(*) RETURN n', 'START n = node(1) MATCH (n)-[]->(m) RETURN m'],
  },
  { names: ['SHOW'], advises: ['pattern'], texts: ['SHOW INDEXES', 'SHOW CONSTRAINTS'] },
  {
    names: ['STARTS WITH'],
    advises: ['LEFT('],
    texts: [
      "MATCH (n) WHERE n.name STARTS WITH 'Ash' RETURN n",
      'MATCH (n) WHERE n.name STARTS WITH $p RETURN n',
      "MATCH (n) WHERE NOT n.name STARTS WITH 'A' AND n.x = 1 RETURN n",
      "MATCH (n) WHERE UPPER(n.name) STARTS WITH 'ASH' RETURN n.name",
      "match (n) where n.name starts with 'Ash' return n",
      "MATCH (n WHERE n.name STARTS WITH 'x') RETURN n",
      "MATCH (n) RETURN n.name STARTS WITH 'x' AS yes",
      'MATCH (a), (b) WHERE a.name STARTS WITH b.name RETURN a',
      "MATCH (n) WHERE n.a = 1 OR (n.name STARTS WITH 'A') RETURN n",
    ],
  },
  {
    names: ['ENDS WITH'],
    advises: ['RIGHT('],
    texts: [
      "MATCH (n) WHERE n.name ENDS WITH 'ford' RETURN n",
      "MATCH (n) WHERE n.name ENDS WITH 'd' OR n.x > 1 RETURN n",
      'MATCH (n) WHERE n.name ends with $end RETURN n',
    ],
  },
  {
    names: ['CONTAINS'],
    advises: ['LEFT', 'none here'],
    texts: [
      "MATCH (n) WHERE n.name CONTAINS 'sh' RETURN n",
      'MATCH (n) WHERE n.name CONTAINS $part RETURN n',
      "MATCH (n) WHERE NOT (n.name CONTAINS 'x') RETURN n",
      "match (n) where lower(n.name) contains 'x' return n",
      "MATCH (n WHERE n.name CONTAINS 'a')-[]->(m) RETURN m",
      "MATCH (n) RETURN CASE WHEN n.name CONTAINS 'x' THEN 1 ELSE 0 END",
    ],
  },
  {
    names: ['=~', 'regular expression'],
    advises: ['LEFT', 'none here'],
    texts: [
      "MATCH (n) WHERE n.name =~ 'A.*' RETURN n",
      "MATCH (n) WHERE n.name =~ '(?i)ash.*' AND n.x = 1 RETURN n",
      'MATCH (n) WHERE NOT n.name =~ $re RETURN n',
    ],
  },
  {
    names: ['BETWEEN'],
    advises: ['>=', '<='],
    texts: [
      'MATCH (n) WHERE n.age BETWEEN 3 AND 5 RETURN n',
      'MATCH (n) WHERE n.age BETWEEN $low AND $high AND n.x = 1 RETURN n',
      'MATCH (n WHERE n.x between 1 and 2) RETURN n',
      'MATCH (n) WHERE NOT n.age BETWEEN 1 AND 2 RETURN n',
    ],
  },
  {
    names: ['LIKE'],
    advises: ['LEFT(text'],
    texts: ["MATCH (n) WHERE n.name LIKE 'A%' RETURN n", "MATCH (n) WHERE n.name NOT LIKE '%x' RETURN n"],
  },
  {
    names: ['!='],
    advises: ['<>'],
    texts: [
      'MATCH (n) WHERE n.x != 1 RETURN n',
      'MATCH (a), (b) WHERE a != b RETURN a',
      "MATCH (n WHERE n.name != 'x' AND n.y = 2) RETURN n",
      'MATCH (n) RETURN n.x!=2',
    ],
  },
  {
    names: ['=='],
    advises: ['='],
    texts: ['MATCH (n) WHERE n.x == 1 RETURN n', "MATCH (n WHERE n.name == 'x') RETURN n"],
  },
  { names: ['&&'], advises: ['AND'], texts: ['MATCH (n) WHERE n.x = 1 && n.y = 2 RETURN n'] },
  {
    names: ['%'],
    advises: ['MOD('],
    texts: [
      'MATCH (n) WHERE n.x % 2 = 0 RETURN n',
      'MATCH (n) RETURN n.x % 10 AS last',
      'MATCH (n) RETURN (n.x + 1) % $m',
      'MATCH (n) RETURN 7 % 3 AS r',
    ],
  },
  {
    names: ['^'],
    advises: ['POWER('],
    texts: [
      'MATCH (n) RETURN n.x ^ 2',
      'MATCH (n) WHERE 2 ^ n.x > 8 RETURN n',
      'MATCH (n) RETURN SQRT(n.x^2 + n.y^2) AS d',
    ],
  },
  {
    names: ['comprehension'],
    marks: '[',
    advises: ['FOR', 'COLLECT_LIST'],
    texts: [
      'MATCH (n) RETURN [x IN n.tags WHERE x > 1]',
      'MATCH (n) RETURN [x IN n.tags | x * 2] AS doubled',
      'MATCH (n) RETURN [x IN n.tags WHERE x <> "a" | x] AS rest',
      'MATCH (n) WHERE size([x IN n.tags WHERE x = 1]) > 0 RETURN n',
      'MATCH p = (a)-[]->(b) RETURN [n IN nodes(p) | n.name]',
      'MATCH (n) RETURN [i in [1,2,3] | i]',
      'MATCH (n) WHERE n.x IN [y IN $list WHERE y > 2] RETURN n',
    ],
  },
  {
    names: ['comprehension'],
    marks: '[',
    advises: ['MATCH', 'COLLECT_LIST'],
    texts: [
      'MATCH (n) RETURN [(n)-[:ROAD]->(m) | m.name] AS near',
      'MATCH (n) RETURN n.name, [(n)-[:ROAD]->(m) WHERE m.x > 1 | m.name]',
      'MATCH (n) RETURN [p = (n)-[:ROAD]->() | PATH_LENGTH(p)]',
    ],
  },
  {
    names: ['any(x IN'],
    advises: ['EXISTS', 'IN'],
    texts: [
      'MATCH (n) WHERE any(x IN n.tags WHERE x = 1) RETURN n',
      'MATCH (n) WHERE NOT any(x IN n.tags WHERE x > 3) RETURN n',
      'MATCH p = (a)-[]->(b) WHERE ANY(x IN nodes(p) WHERE x.age > 3) RETURN p',
    ],
  },
  {
    names: ['all(x IN'],
    advises: ['path'],
    texts: [
      'MATCH p = (a)-[]->(b) WHERE all(x IN relationships(p) WHERE x.km < 5) RETURN p',
      'MATCH (n) WHERE ALL(x IN n.tags WHERE x > 0) RETURN n',
    ],
  },
  {
    names: ['none(x IN'],
    advises: ['NOT'],
    texts: [
      'MATCH p = (a)-[]->(b) WHERE none(x IN nodes(p) WHERE x.shut) RETURN p',
      'MATCH (n) WHERE none(x IN n.tags WHERE x = 2) RETURN n',
    ],
  },
  {
    names: ['single(x IN'],
    advises: ['COUNT'],
    texts: ['MATCH (n) WHERE single(x IN n.tags WHERE x = 1) RETURN n'],
  },
  {
    names: ['reduce'],
    advises: ['SUM('],
    texts: [
      'MATCH p = (a)-[]->(b) RETURN reduce(km = 0, r IN relationships(p) | km + r.km) AS total',
      'MATCH (n) RETURN reduce(s = "", x IN n.tags | s || x)',
    ],
  },
  {
    names: ['several labels', ':A:B'],
    marks: ':B',
    advises: ['&'],
    texts: [
      'MATCH (a:A:B) RETURN a',
      'MATCH (:A:B)-[]->(c) RETURN c',
      'MATCH (a) WHERE a:A:B RETURN a',
      'MATCH (a:A:B {x: 1}) RETURN a',
      'MATCH (a:A:B:C) RETURN a',
    ],
  },
  {
    names: ['|:'],
    advises: [':A|B'],
    texts: [
      'MATCH (a)-[:A|:B]->(b) RETURN a',
      'MATCH (a)-[r:A|:B]->(b) RETURN r',
      'MATCH (a)<-[:A|:B|:C]-(b) RETURN b',
      'MATCH (a)-[:A | :B]-(b) RETURN b',
    ],
  },
  {
    names: ['*1..2'],
    advises: ['-[:T]->{1,2}'],
    texts: ['MATCH (a)-[:T*1..2]->(b) RETURN b', 'MATCH p = (a)-[:T *1..2]->(b) RETURN p'],
  },
  { names: ['*2..5'], advises: ['<-[:T]-{2,5}'], texts: ['MATCH (a)<-[:T*2..5]-(b) RETURN b'] },
  {
    names: ['*'],
    advises: ['-[:T]->+'],
    texts: ['MATCH (a)-[:T*]->(b) RETURN b', 'MATCH (a)-[:T* ]->(b) WHERE a.x = 1 RETURN b'],
  },
  { names: ['*'], advises: ['->+'], texts: ['MATCH (a)-[*]->(b) RETURN b', 'MATCH p=(a)-[*]->(b) RETURN p'] },
  { names: ['*3'], advises: ['-[:T]->{3}'], texts: ['MATCH (a)-[:T*3]->(b) RETURN b'] },
  { names: ['*..4'], advises: ['-[e:T]->{1,4}'], texts: ['MATCH (a)-[e:T*..4]->(b) RETURN b'] },
  { names: ['*2..'], advises: ['-[:T]-{2,}'], texts: ['MATCH (a)-[:T*2..]-(b) RETURN b'] },
  { names: ['*0..1'], advises: ['-[:A|B]->{0,1}'], texts: ['MATCH (a)-[:A|B*0..1]->(b) RETURN b'] },
  {
    names: ['*1..3'],
    advises: ['-[e:T {x: 1}]->{1,3}'],
    texts: ['MATCH (a)-[e:T*1..3 {x: 1}]->(b) RETURN b'],
  },
  { names: ['*1..3'], advises: ['-[e]-{1,3}'], texts: ['MATCH (a)-[e*1..3]-(b) RETURN b'] },
  {
    names: ['shortestPath'],
    advises: ['ANY SHORTEST'],
    texts: [
      'MATCH p = shortestPath((a)-[*]->(b)) RETURN p',
      'MATCH (a), (b), p = shortestPath((a)-[:ROAD*..5]-(b)) RETURN p',
      'MATCH (a {x: 1}), (b {x: 2}) MATCH p = shortestPath((a)-[:ROAD*]->(b)) RETURN PATH_LENGTH(p)',
    ],
  },
  {
    names: ['allShortestPaths'],
    advises: ['ALL SHORTEST'],
    texts: ['MATCH p = allShortestPaths((a)-[:ROAD*]->(b)) RETURN p'],
  },
  {
    names: ['--'],
    advises: ['->', 'comment'],
    texts: [
      'MATCH (a)-->(b) RETURN b',
      'MATCH (a)--(b) RETURN b',
      'MATCH (a)<--(b) RETURN b',
      'MATCH (a)-->(b)-->(c) RETURN c',
      'MATCH (a:A)--(b:B)\nWHERE a.x = 1\nRETURN b',
    ],
  },
  {
    names: ['pattern', 'condition'],
    marks: '(',
    advises: ['EXISTS {'],
    texts: [
      'MATCH (a), (b) WHERE (a)-[:ROAD]->(b) RETURN a',
      'MATCH (a) WHERE NOT (a)-[:ROAD]->() RETURN a',
      'MATCH (a) WHERE a.x = 1 AND (a)<-[:ROAD]-(:Town) RETURN a',
      'MATCH (a) WHERE (a)->(:Town) RETURN a',
      'MATCH (a) WHERE (a)-[:ROAD]-() OR a.x = 2 RETURN a',
      'MATCH (a) RETURN CASE WHEN (a)-[:ROAD]->() THEN 1 ELSE 0 END',
      'MATCH (a) WHERE NOT (a)<-[]-() RETURN a',
    ],
  },
  {
    names: ['exists(n.x)'],
    advises: ['n.x IS NOT NULL'],
    texts: [
      'MATCH (n) WHERE exists(n.x) RETURN n',
      'MATCH (n) WHERE NOT exists(n.x) RETURN n',
      'MATCH (n) WHERE n.y = 1 AND EXISTS(n.x) RETURN n',
      'MATCH (n) RETURN exists(n.x) AS there',
    ],
  },
  {
    names: ['RETURN', 'EXISTS'],
    advises: ['leave'],
    texts: [
      'MATCH (n) WHERE EXISTS { MATCH (n)-[]->(m) RETURN m } RETURN n',
      'MATCH (n) WHERE EXISTS { MATCH (n)-[]->(m) WHERE m.x = 1 RETURN 1 } RETURN n',
    ],
  },
  {
    names: ['COUNT {'],
    advises: ['OPTIONAL MATCH', 'COUNT('],
    texts: [
      'MATCH (n) WHERE COUNT { (n)-[:ROAD]->() } > 2 RETURN n',
      'MATCH (n) RETURN n, COUNT { MATCH (n)-[]->(m) WHERE m.x = 1 } AS c',
      'MATCH (n) RETURN count { (n)-[:ROAD]-() }',
    ],
  },
  {
    names: ['COLLECT {'],
    advises: ['COLLECT_LIST('],
    texts: ['MATCH (n) RETURN COLLECT { MATCH (n)-[]->(m) RETURN m.name }'],
  },
  {
    names: ['[0]', 'position'],
    advises: ['GQL', 'none here'],
    texts: [
      'MATCH (n) RETURN n.list[0]',
      'MATCH (n) WHERE n.list[0] = 1 RETURN n',
      'MATCH (n) RETURN [1, 2, 3][0]',
      'MATCH (n) RETURN ELEMENTS(n.p)[0]',
      'MATCH (n) RETURN $list[0] AS first',
    ],
  },
  { names: ['[-1]', 'position'], advises: ['none here'], texts: ['MATCH (n) RETURN n.list[-1]'] },
  {
    names: ['slice'],
    marks: '..',
    advises: ['TRIM(list, n)'],
    texts: [
      'MATCH (n) RETURN n.list[0..2]',
      'MATCH (n) RETURN n.list[..3]',
      'MATCH (n) RETURN n.list[1..]',
      'MATCH (n) RETURN [1, 2, 3][1..2]',
    ],
  },
  {
    names: ["n['name']"],
    advises: ['n.name'],
    texts: ["MATCH (n) WHERE n['name'] = 'x' RETURN n", "MATCH (n) RETURN n['name']"],
  },
  {
    names: ['projection'],
    marks: '{',
    advises: ['AS'],
    texts: [
      'MATCH (n) RETURN n {.name, .age}',
      'MATCH (n) RETURN n { .* }',
      'MATCH (n) RETURN n {.name, twice: n.x * 2} AS m',
    ],
  },
  {
    names: ['$label'],
    advises: ['text for each label'],
    texts: ['MATCH (n:$label) RETURN n', 'MATCH (n:A&$label) RETURN n'],
  },
  { names: ['$type'], advises: ['text for each label'], texts: ['MATCH (a)-[:$type]->(b) RETURN b'] },
  {
    names: ['$props'],
    advises: ['{name: $name}'],
    texts: [
      'MATCH (n $props) RETURN n',
      'MATCH (n:Town $props) RETURN n',
      'MATCH (a)-[r:T $props]->(b) RETURN r',
    ],
  },
  {
    names: ['{p}'],
    advises: ['$p'],
    texts: [
      'MATCH (n) WHERE n.x = {p} RETURN n',
      'MATCH (n {x: {p}}) RETURN n',
      'MATCH (n) RETURN n LIMIT {p}',
    ],
  },
  {
    names: ['RETURN *'],
    marks: '*',
    advises: ['alone'],
    texts: ['MATCH (n) RETURN *, n.x AS x', 'MATCH (n)-[]->(m) RETURN DISTINCT *, 1 AS one'],
  },
  {
    names: ['SKIP', 'LIMIT'],
    advises: ['before LIMIT'],
    texts: ['MATCH (n) RETURN n LIMIT 5 SKIP 2', 'MATCH (n) RETURN n ORDER BY n.x LIMIT $a SKIP $b'],
  },
  {
    names: ['WHERE', 'RETURN'],
    advises: ['before RETURN'],
    texts: ['MATCH (n) RETURN n WHERE n.x = 1', 'MATCH (n) RETURN n.x AS x, count(*) AS c WHERE c > 1'],
  },
  { names: ['WHERE'], advises: ['AND'], texts: ['MATCH (n) WHERE n.x = 1 WHERE n.y = 2 RETURN n'] },
  {
    names: ['HAVING'],
    advises: ['FILTER'],
    texts: ['MATCH (n) RETURN n.x AS x, count(*) AS c GROUP BY x HAVING c > 1'],
  },
  { names: ['SELECT'], advises: ['MATCH'], texts: ['SELECT n.name FROM MATCH (n)', 'SELECT * FROM towns'] },
  // More of the same, in other surroundings.
  {
    names: ['pattern', 'condition'],
    marks: '(',
    advises: ['EXISTS { (a)->(b) }'],
    texts: [
      'MATCH (a), (b) WHERE (a)-->(b) RETURN a',
      'MATCH (a), (b) WHERE a.x = 1 AND NOT (a)-->(b) RETURN b',
    ],
  },
  {
    names: ['pattern', 'condition'],
    marks: '(',
    advises: ['EXISTS { (a)-(:Town) }'],
    texts: ['MATCH (a) WHERE (a)--(:Town) RETURN a', 'MATCH (a WHERE NOT (a)--(:Town)) RETURN a'],
  },
  {
    names: ['size('],
    advises: ['COUNT('],
    texts: [
      'MATCH (a) RETURN size((a)-[:ROAD]->()) AS n',
      'MATCH (a) WHERE size((a)-->()) > 2 RETURN a',
      'MATCH (a) RETURN a, SIZE((a)-[:ROAD]-(:Town))',
    ],
  },
  {
    names: ['STARTS WITH'],
    advises: ["LEFT(n.name, 3) = 'Ash'"],
    texts: [
      "MATCH (n:Town) WHERE n.name STARTS WITH 'Ash' RETURN count(*)",
      "OPTIONAL MATCH (n) WHERE n.name STARTS WITH 'Ash' RETURN n",
    ],
  },
  {
    names: ['ENDS WITH'],
    advises: ['RIGHT(a.name, CHAR_LENGTH(b.name)) = b.name'],
    texts: ['MATCH (a), (b) WHERE a.name ENDS WITH b.name RETURN a'],
  },
  {
    names: ['BETWEEN'],
    advises: ['n.age >= 3 AND n.age <= 5'],
    texts: ['MATCH (n) WHERE n.x = 1 AND n.age BETWEEN 3 AND 5 RETURN n.x ORDER BY n.x'],
  },
  {
    names: ['%'],
    advises: ['MOD('],
    texts: ['MATCH (n) RETURN n ORDER BY n.x % 3, n.y', 'MATCH (n) WHERE (n.x - 1) % 2 = 1 RETURN n'],
  },
  {
    names: ['UNWIND'],
    advises: ['FOR row IN $rows'],
    texts: [
      'UNWIND $rows AS row MATCH (n {id: row.id}) RETURN n.name',
      'MATCH (a) UNWIND $rows AS row RETURN a, row',
    ],
  },
  {
    names: ['WITH'],
    advises: ['NEXT', 'LET'],
    texts: [
      'MATCH (a)-[:ROAD]->(b) WITH a, count(b) AS n ORDER BY n DESC RETURN a LIMIT 3',
      'MATCH (a) WITH collect(a) AS all MATCH (b) RETURN b',
      'MATCH (a) WITH a AS town, a.x AS x RETURN town, x',
      'OPTIONAL MATCH (a) WITH a WHERE a.x IS NOT NULL RETURN a',
    ],
  },
  {
    names: ['SET'],
    advises: CHANGES,
    texts: [
      'MATCH (a)-[r]->(b) WHERE r.km IS NULL SET r.km = 0',
      'MATCH (n) SET n.seen = datetime() RETURN n',
      'MATCH (n:Town) SET n.x = null',
    ],
  },
  {
    names: ['CREATE'],
    advises: CHANGES,
    texts: [
      'MATCH (n:Town) WHERE n.x > 1 CREATE (n)-[:IN]->(:Land {name: "L"})',
      'CREATE (:A), (:B)',
      'CREATE (a:A)-[:R]->(b:B) RETURN a, b',
      'create unique (n)',
    ],
  },
  {
    names: ['MERGE'],
    advises: CHANGES,
    texts: [
      'MERGE (a:Town {name: $name})',
      'MATCH (a) MERGE (a)-[:IN]->(l:Land)',
      'MERGE (n:A {id: 1}) SET n.x = 2',
    ],
  },
  {
    names: ['DELETE'],
    advises: CHANGES,
    texts: ['MATCH (n:Old) DETACH DELETE n RETURN count(*)', 'MATCH (a)-[r:ROAD]->() DELETE r, a'],
  },
  {
    names: ['comprehension'],
    marks: '[',
    advises: ['COLLECT_LIST'],
    texts: [
      'MATCH (n) RETURN n.name, [t IN n.tags WHERE t <> "x" | UPPER(t)] AS tags',
      'MATCH (n) WHERE n.x IN [t IN n.tags | t + 1] RETURN n',
      'MATCH (a) RETURN [(a)<-[:ROAD]-(b) | b.name] AS names ORDER BY a.name',
    ],
  },
  {
    names: ['any(tag IN'],
    advises: ['IN list'],
    texts: [
      'MATCH (n) WHERE any(tag IN n.tags WHERE tag CONTAINS "x") RETURN n',
      'MATCH (n) WHERE n.x = 1 AND any(tag IN ["a", "b"] WHERE tag = n.tag) RETURN n',
    ],
  },
  {
    names: ['all(r IN'],
    advises: ['quantified path'],
    texts: ['MATCH p = (a)-[:ROAD]->{1,3}(b) WHERE all(r IN relationships(p) WHERE r.km < 3) RETURN p'],
  },
  {
    names: ['*1..5'],
    advises: ['-[:ROAD]->{1,5}'],
    texts: [
      'MATCH (a:Town)-[:ROAD*1..5]->(b:Town) WHERE a.x = 1 RETURN DISTINCT b.name',
      'OPTIONAL MATCH (a)-[:ROAD*1..5]->(b) RETURN b',
    ],
  },
  { names: ['*'], advises: ['<-[:ROAD]-+'], texts: ['MATCH (a)<-[:ROAD*]-(b) RETURN count(b)'] },
  { names: ['*2'], advises: ['-[]-{2}'], texts: ['MATCH (a)-[*2]-(b) RETURN b'] },
  {
    names: [':Town:Port'],
    advises: [':Town&Port'],
    texts: [
      'MATCH (n:Town:Port) WHERE n.x = 1 RETURN n',
      'MATCH (a)-[:ROAD]->(:Town:Port) RETURN a',
      'MATCH (n) RETURN n:Town:Port AS both',
    ],
  },
  {
    names: ['exists(a.name)'],
    advises: ['a.name IS NOT NULL'],
    texts: [
      'MATCH (a)-[r]->(b) WHERE exists(a.name) AND b.x = 1 RETURN a',
      'MATCH (a) WHERE (exists(a.name)) RETURN a',
    ],
  },
  {
    names: ['[1]'],
    advises: ['none here'],
    texts: ['MATCH (n) RETURN n.tags[1] AS tag ORDER BY tag', 'MATCH p = (a)-[]->(b) RETURN nodes(p)[1]'],
  },
  {
    names: ['projection'],
    marks: '{',
    advises: ['t.name AS name'],
    texts: ['MATCH (t:Town) RETURN t {.name, .people} ORDER BY t.name'],
  },
  {
    names: ['collect('],
    advises: ['COLLECT_LIST('],
    texts: [
      'MATCH (a)-[]->(b) RETURN a.name, collect(b.name) AS names, count(*)',
      'MATCH (a) RETURN collect(DISTINCT a.x)',
    ],
  },
  {
    names: ['labels('],
    advises: ['IS LABELED'],
    texts: ['MATCH (a)-[]->(b) RETURN labels(a), labels(b), count(*)'],
  },
  {
    names: ['toLower('],
    advises: ['LOWER('],
    texts: ["MATCH (n) WHERE toLower(n.name) = 'ash' AND n.x > 1 RETURN n.name"],
  },
  {
    names: ['datetime('],
    advises: ['CURRENT_TIMESTAMP'],
    texts: ['MATCH (n) RETURN datetime() AS now LIMIT 1'],
  },
  {
    names: ['=~'],
    advises: ['none here'],
    texts: ["MATCH (a)-[]->(b) WHERE a.name =~ '.*x.*' OR b.name = 'y' RETURN a"],
  },
  {
    names: ['CALL'],
    advises: ['no procedures'],
    texts: [
      'CALL db.index.fulltext.queryNodes("i", "ash") YIELD node, score RETURN node',
      'CALL tools.periodic.iterate("MATCH (n) RETURN n", "SET n.x = 1", {})',
    ],
  },
  {
    names: ['$kind'],
    advises: ['text for each label'],
    texts: ['MATCH (a:Town|$kind) RETURN a', 'MATCH (a)<-[r:$kind]-(b) RETURN r'],
  },
  {
    names: ['{name}'],
    advises: ['$name'],
    texts: ['MATCH (n:Town {name: {name}}) RETURN n', 'MATCH (n) WHERE n.name IN {name} RETURN n'],
  },
  // Functions: what they are called here.
  {
    names: ['id('],
    advises: ['ELEMENT_ID('],
    texts: [
      'MATCH (n) WHERE id(n) = 1 RETURN n',
      'MATCH (n) RETURN id(n) AS i',
      'MATCH (a)-[r]->(b) RETURN ID(r)',
      'MATCH (n) RETURN elementId(n)',
    ],
  },
  {
    names: ['type('],
    advises: ['IS LABELED'],
    texts: [
      "MATCH (a)-[r]->(b) WHERE type(r) = 'ROAD' RETURN r",
      'MATCH (a)-[r]->(b) RETURN type(r), count(*)',
    ],
  },
  {
    names: ['labels('],
    advises: ['IS LABELED'],
    texts: [
      "MATCH (n) WHERE 'Town' IN labels(n) RETURN n",
      'MATCH (n) RETURN labels(n)',
      'MATCH (n) RETURN DISTINCT labels(n) AS l, count(*) AS c',
    ],
  },
  {
    names: ['nodes('],
    advises: ['ELEMENTS('],
    texts: ['MATCH p = (a)-[]->(b) RETURN nodes(p)', 'MATCH p = (a)-[]->(b) RETURN size(nodes(p))'],
  },
  {
    names: ['relationships('],
    advises: ['ELEMENTS('],
    texts: ['MATCH p = (a)-[]->(b) RETURN relationships(p)'],
  },
  { names: ['rels('], advises: ['ELEMENTS('], texts: ['MATCH p = (a)-[]->(b) RETURN rels(p)'] },
  {
    names: ['length('],
    advises: ['PATH_LENGTH('],
    texts: [
      'MATCH p = (a)-[]->(b) RETURN length(p)',
      'MATCH p = (a)-[]->{1,3}(b) WHERE length(p) > 1 RETURN p',
      'MATCH (n) RETURN length(n.name)',
    ],
  },
  {
    names: ['SIZE wants'],
    marks: "'abc'",
    advises: ['CHAR_LENGTH('],
    texts: ["MATCH (n) RETURN size('abc')"],
  },
  {
    names: ['collect('],
    advises: ['COLLECT_LIST('],
    texts: [
      'MATCH (n) RETURN collect(n.name)',
      'MATCH (n) RETURN n.x, collect(DISTINCT n.name) AS names',
      'MATCH (n) RETURN size(collect(n))',
    ],
  },
  {
    names: ['toUpper('],
    advises: ['UPPER('],
    texts: ["MATCH (n) WHERE toUpper(n.name) = 'X' RETURN n", 'MATCH (n) RETURN toupper(n.name)'],
  },
  { names: ['toLower('], advises: ['LOWER('], texts: ["MATCH (n) WHERE toLower(n.name) = 'x' RETURN n"] },
  { names: ['toString('], advises: ['CAST('], texts: ['MATCH (n) RETURN toString(n.x)'] },
  {
    names: ['toInteger('],
    advises: ['CAST('],
    texts: ['MATCH (n) RETURN toInteger(n.x)', 'MATCH (n) WHERE toInteger(n.x) = 3 RETURN n'],
  },
  { names: ['toFloat('], advises: ['CAST('], texts: ['MATCH (n) WHERE toFloat(n.x) > 1.5 RETURN n'] },
  { names: ['toBoolean('], advises: ['CAST('], texts: ['MATCH (n) WHERE toBoolean(n.x) RETURN n'] },
  {
    names: ['substring('],
    advises: ['LEFT(', 'RIGHT('],
    texts: ['MATCH (n) RETURN substring(n.name, 0, 3)', 'MATCH (n) RETURN substring(n.name, 2)'],
  },
  { names: ['replace('], advises: ['none here'], texts: ["MATCH (n) RETURN replace(n.name, 'a', 'b')"] },
  { names: ['split('], advises: ['none here'], texts: ["MATCH (n) RETURN split(n.name, ',')"] },
  { names: ['reverse('], advises: ['none here'], texts: ['MATCH (n) RETURN reverse(n.name)'] },
  { names: ['head('], advises: ['MIN', 'ORDER BY'], texts: ['MATCH (n) RETURN head(n.list)'] },
  { names: ['last('], advises: ['MAX', 'ORDER BY'], texts: ['MATCH (n) RETURN last(n.list)'] },
  { names: ['tail('], advises: ['none here'], texts: ['MATCH (n) RETURN tail(n.list)'] },
  {
    names: ['range('],
    advises: ['list', '[1, 2, 3]'],
    texts: ['MATCH (n) WHERE n.x IN range(1, 5) RETURN n', 'MATCH (n) RETURN range(0, 10, 2)'],
  },
  {
    names: ['keys('],
    advises: ['PROPERTY_EXISTS'],
    texts: ['MATCH (n) RETURN keys(n)', "MATCH (n) WHERE 'x' IN keys(n) RETURN n"],
  },
  { names: ['properties('], advises: ['n.name'], texts: ['MATCH (n) RETURN properties(n)'] },
  {
    names: ['startNode('],
    advises: ['(a)-[r]->(b)'],
    texts: ['MATCH ()-[r]->() RETURN startNode(r)', 'MATCH (a)-[r]-(b) WHERE startNode(r) = a RETURN b'],
  },
  { names: ['endNode('], advises: ['(a)-[r]->(b)'], texts: ['MATCH ()-[r]->() RETURN endNode(r)'] },
  { names: ['rand('], advises: ['none here'], texts: ['MATCH (n) RETURN n ORDER BY rand() LIMIT 3'] },
  {
    names: ['round('],
    advises: ['FLOOR('],
    texts: ['MATCH (n) RETURN round(n.x)', 'MATCH (n) RETURN round(n.x, 2)'],
  },
  { names: ['sign('], advises: ['CASE'], texts: ['MATCH (n) RETURN sign(n.x)'] },
  { names: ['pi('], advises: ['RADIANS(180)'], texts: ['MATCH (n) RETURN 2 * pi() * n.x'] },
  { names: ['e('], advises: ['EXP(1)'], texts: ['MATCH (n) RETURN e() AS e'] },
  { names: ['atan2('], advises: ['ATAN('], texts: ['MATCH (n) RETURN atan2(n.x, n.y)'] },
  {
    names: ['percentileCont('],
    advises: ['PERCENTILE_CONT('],
    texts: ['MATCH (n) RETURN percentileCont(n.x, 0.5)'],
  },
  {
    names: ['percentileDisc('],
    advises: ['PERCENTILE_DISC('],
    texts: ['MATCH (n) RETURN percentileDisc(n.x, 0.5)'],
  },
  { names: ['stDev('], advises: ['STDDEV_SAMP('], texts: ['MATCH (n) RETURN stDev(n.x)'] },
  { names: ['stDevP('], advises: ['STDDEV_POP('], texts: ['MATCH (n) RETURN stDevP(n.x)'] },
  { names: ['isEmpty('], advises: ['SIZE('], texts: ['MATCH (n) WHERE isEmpty(n.tags) RETURN n'] },
  { names: ['timestamp('], advises: ['CURRENT_TIMESTAMP'], texts: ['MATCH (n) RETURN timestamp() AS now'] },
  {
    names: ['datetime('],
    advises: ['CURRENT_TIMESTAMP'],
    texts: ['MATCH (n) WHERE n.at < datetime() RETURN n'],
  },
  {
    names: ['datetime('],
    advises: ["ZONED_DATETIME('"],
    texts: ["MATCH (n) WHERE n.at < datetime('2024-05-31T08:00:00Z') RETURN n"],
  },
  {
    names: ['localdatetime('],
    advises: ['LOCAL_DATETIME('],
    texts: [
      "MATCH (n) WHERE n.at < localdatetime('2024-05-31T08:00:00') RETURN n",
      'MATCH (n) RETURN localdatetime()',
    ],
  },
  { names: ['localtime('], advises: ['LOCAL_TIME'], texts: ['MATCH (n) RETURN localtime()'] },
  {
    names: ['date({'],
    advises: ["DATE '2024-05-31'"],
    texts: ['MATCH (n) WHERE n.day = date({year: 2024, month: 5, day: 31}) RETURN n'],
  },
  {
    names: ['datetime({'],
    advises: ["DATETIME '2024-05-31T08:00:00Z'"],
    texts: ['MATCH (n) RETURN datetime({year: 2024, month: 5, day: 31}) AS d'],
  },
  {
    names: ['duration({'],
    advises: ["DURATION 'P"],
    texts: [
      'MATCH (n) RETURN n.day + duration({days: 3})',
      'MATCH (n) WHERE n.d < duration({months: 2}) RETURN n',
    ],
  },
  {
    names: ['duration.between'],
    advises: ['DURATION_BETWEEN('],
    texts: [
      'MATCH (n) RETURN duration.between(n.a, n.b)',
      'MATCH (a), (b) WHERE duration.between(a.d, b.d) < DURATION "P3D" RETURN a',
    ],
  },
  {
    names: ['duration.inDays'],
    advises: ['DURATION_BETWEEN('],
    texts: ['MATCH (n) RETURN duration.inDays(n.a, n.b)'],
  },
  {
    names: ['date.truncate'],
    advises: ['no function'],
    texts: ["MATCH (n) RETURN date.truncate('month', n.day)"],
  },
  {
    names: ['point('],
    advises: ['none here'],
    texts: [
      'MATCH (n) RETURN point({x: n.x, y: n.y})',
      'MATCH (n) RETURN point({latitude: 1, longitude: 2})',
    ],
  },
  {
    names: ['tools.text.join'],
    advises: ['no function'],
    texts: [
      "MATCH (n) RETURN tools.text.join(n.tags, ',')",
      "MATCH (n) WHERE tools.text.join(n.tags, ',') = 'a' RETURN n",
    ],
  },
  { names: ['randomUUID('], advises: ['none here'], texts: ['MATCH (n) RETURN randomUUID()'] },
  { names: ['ifnull('], advises: ['COALESCE('], texts: ['MATCH (n) RETURN ifnull(n.x, 0)'] },
  { names: ['degree('], advises: ['COUNT('], texts: ['MATCH (n) WHERE degree(n) > 2 RETURN n'] },
  // What types show.
  {
    names: ['+'],
    advises: ['||'],
    texts: [
      "MATCH (n) RETURN n.name + ' ' + n.last",
      "MATCH (n) RETURN 'a' + n.x",
      "MATCH (n) WHERE n.a = 'x' + 'y' RETURN n",
    ],
  },
  { names: ['+'], advises: ['||'], texts: ['MATCH (n) RETURN n.tags + [1]'] },
  {
    names: ['|| joins'],
    marks: '||',
    advises: ['OR'],
    texts: ['MATCH (n) WHERE (n.x = 1) || (n.y = 2) RETURN n'],
  },
  {
    names: ['null'],
    advises: ['IS NULL'],
    texts: ['MATCH (n) WHERE n.x = null RETURN n', 'MATCH (n {x: null}) RETURN n'],
  },
  {
    names: ['null'],
    advises: ['IS NOT NULL'],
    texts: ['MATCH (n) WHERE n.x <> null RETURN n'],
  },
  { names: ['MAX'], advises: ['column'], texts: ['MATCH (n) RETURN n.x ORDER BY max(n.y)'] },
  { names: ['COUNT'], advises: ['RETURN'], texts: ['MATCH (n)-[r]->(m) WHERE count(r) > 2 RETURN n'] },
  { names: ['"n"'], advises: ['GROUP BY'], texts: ['MATCH (n) RETURN n.x + count(*)'] },
  {
    names: ['escape'],
    marks: '\\d',
    advises: ['backslash'],
    texts: ["MATCH (n) WHERE n.name = 'a\\d' RETURN n"],
  },
  {
    names: ['IS ::'],
    marks: '::',
    advises: ['none here'],
    texts: ['MATCH (n) WHERE n.x IS :: STRING RETURN n', 'MATCH (n) WHERE n.x IS NOT :: INTEGER RETURN n'],
  },
  {
    names: ['A comparison does not go on with <'],
    marks: '<',
    advises: ['AND'],
    texts: ['MATCH (n) WHERE 1 < n.x < 3 RETURN n', 'MATCH (n) WHERE 1 <= n.x <= 3 RETURN n'],
  },
  {
    names: ['A list'],
    marks: '(',
    advises: ['[1, 2, 3]'],
    texts: ['MATCH (n) WHERE n.x IN (1, 2) RETURN n'],
  },
  {
    names: ['GROUP BY'],
    marks: 'n.x',
    advises: ['AS'],
    texts: ['MATCH (n) RETURN n.x, count(*) GROUP BY n.x'],
  },
  {
    names: ['!'],
    advises: ['NOT'],
    texts: ['MATCH (n) WHERE !n.shut RETURN n', 'MATCH (n) WHERE !(n.x = 1) RETURN n'],
  },
  // Written before the messages were tried on them.
  {
    names: ['UNWIND'],
    advises: ['FOR'],
    texts: [
      'MATCH (p:Person)-[:KNOWS]->(f) UNWIND f.skills AS skill RETURN p.name, COUNT(DISTINCT skill) AS n ORDER BY n DESC',
      'UNWIND keys($map) AS k RETURN k',
      'MATCH (n) WHERE n.x = 1 UNWIND n.list AS i RETURN i ORDER BY i',
    ],
  },
  {
    names: ['WITH'],
    advises: ['NEXT'],
    texts: [
      'MATCH (n:Person) WITH n, n.age * 2 AS doubled WHERE doubled > 40 RETURN n.name',
      'MATCH (a)-[r]->(b) WITH a, max(r.km) AS far MATCH (a)-[r2]->(c) WHERE r2.km = far RETURN c',
      'MATCH (n) WITH max(n.age) AS oldest RETURN oldest',
      'MATCH (n) WITH n.name AS name, n.age as age ORDER BY age RETURN collect(name)',
    ],
  },
  {
    names: ['STARTS WITH'],
    advises: ['LEFT('],
    texts: [
      "MATCH (p:Person)-[:LIVES_IN]->(c:City) WHERE c.name STARTS WITH 'New' AND p.age >= 18 RETURN p.name, c.name",
      'MATCH (n) WHERE toLower(n.name) STARTS WITH toLower($q) RETURN n LIMIT 10',
      "MATCH (n) WHERE NOT (n.name STARTS WITH 'A' OR n.name STARTS WITH 'B') RETURN n",
    ],
  },
  {
    names: ['ENDS WITH'],
    advises: ['RIGHT('],
    texts: [
      "MATCH (f:File) WHERE f.path ENDS WITH '.ts' RETURN f.path",
      "MATCH (n)-[r:R {kind: 'x'}]->(m) WHERE m.name ENDS WITH n.name RETURN m",
    ],
  },
  {
    names: ['CONTAINS'],
    advises: ['LEFT'],
    texts: [
      "MATCH (m:Movie) WHERE m.title CONTAINS 'Matrix' RETURN m.title, m.released ORDER BY m.released",
      "MATCH (n) WHERE n.tags CONTAINS 'a' RETURN count(n)",
      'MATCH (a)-[r]->(b) WHERE r.note CONTAINS a.name RETURN r',
    ],
  },
  {
    names: ['=~'],
    advises: ['none here'],
    texts: [
      "MATCH (n:Person) WHERE n.email =~ '.*@example\\\\.com' RETURN n",
      "MATCH (n WHERE n.name =~ 'x.*') RETURN n",
    ],
  },
  {
    names: ['BETWEEN'],
    advises: ['>='],
    texts: ['MATCH (e:Event) WHERE e.year BETWEEN 1990 AND 1999 AND e.kind = "x" RETURN e'],
  },
  {
    names: ['comprehension'],
    marks: '[',
    advises: ['COLLECT_LIST'],
    texts: [
      'MATCH (p:Person) RETURN p.name, [(p)-[:ACTED_IN]->(m:Movie) | m.title] AS movies',
      'MATCH (n) RETURN size([x IN n.scores WHERE x >= 5 | x]) AS high',
      'MATCH p=(a)-[:R]->{2}(b) RETURN [r IN relationships(p) | type(r)] AS types',
    ],
  },
  {
    names: ['&'],
    marks: ':',
    advises: [':Person&Admin'],
    texts: [
      'MATCH (u:Person:Admin) RETURN u.name',
      'MATCH (u:Person:Admin {active: true})-[:OWNS]->(x) RETURN x',
      'MATCH (u) WHERE u:Person:Admin AND u.x = 1 RETURN u',
      'MATCH (x)<-[:OWNS]-(:Person:Admin) RETURN x',
    ],
  },
  {
    names: ['*'],
    advises: ['{1,3}'],
    texts: [
      'MATCH (p:Person {name: "A"})-[:KNOWS*1..3]->(f:Person) WHERE f <> p RETURN DISTINCT f.name',
      'MATCH (a)-[:X|Y*1..3]-(b) RETURN count(*)',
      'MATCH (a)-[rels:KNOWS*1..3]->(b) RETURN rels',
      'MATCH (a)-[:R*1..3]->(b)-[:S]->(c) RETURN c',
      'MATCH (a)-[:KNOWS * 1..3]->(b) RETURN b',
      'MATCH (a) WHERE EXISTS { (a)-[:R*1..3]->(:B) } RETURN a',
      'MATCH (a), p = (a)-[*1..3]-(b) RETURN p',
    ],
  },
  {
    names: ['*'],
    advises: ['->*'],
    texts: [
      'MATCH (a)-[:PARENT*0..]->(root) WHERE NOT EXISTS { (root)-[:PARENT]->() } RETURN root',
      'MATCH (a)-[:PARENT *0..]->(b) RETURN b',
    ],
  },
  {
    names: [':'],
    marks: ':',
    advises: [':A|B'],
    texts: ['MATCH (a)-[:A|:B]->(b)-[:C]->(d) RETURN d', 'MATCH (a)-[e:A|:B {x: 1}]->(b) RETURN e'],
  },
  {
    names: ['SET'],
    advises: ['only read'],
    texts: [
      'MATCH (p:Person {name: $name}) SET p.age = $age RETURN p',
      'MATCH (p:Person) SET p += $props',
      'MATCH (n) SET n.list = n.list + [1]',
      'MATCH (a)-[r:R]->(b) SET r.weight = coalesce(r.weight, 0) + 1',
    ],
  },
  {
    names: ['CREATE'],
    advises: ['only read'],
    texts: [
      'MATCH (a:Person), (b:Movie) WHERE a.name = "X" AND b.title = "Y" CREATE (a)-[:ACTED_IN {role: "z"}]->(b)',
      'CREATE (p:Person {name: "A", age: 3}) RETURN p',
      'CREATE FULLTEXT INDEX names FOR (n:Person) ON EACH [n.name]',
    ],
  },
  {
    names: ['MERGE'],
    advises: ['only read'],
    texts: [
      'MERGE (p:Person {name: "A"}) ON MATCH SET p.seen = timestamp() RETURN p',
      'MATCH (a:A), (b:B) MERGE (a)-[:R]->(b) RETURN count(*)',
    ],
  },
  {
    names: ['DELETE'],
    advises: ['only read'],
    texts: ['MATCH (n:Tmp)-[r]-() DELETE r, n', 'MATCH (n) WHERE n.x IS NULL DETACH DELETE n'],
  },
  {
    names: ['shortestPath'],
    advises: ['ANY SHORTEST'],
    texts: [
      'MATCH p = shortestPath((a:Person {name: "A"})-[:KNOWS*]-(b:Person {name: "B"})) RETURN length(p)',
      'MATCH p = shortestPath((a)-[*..15]-(b)) WHERE a.x = 1 RETURN p',
    ],
  },
  {
    names: ['comment'],
    marks: '--',
    advises: ['->'],
    texts: [
      'MATCH (a:Person)-->(m:Movie) RETURN a, m',
      'MATCH (a)<--(b)->(c) RETURN c',
      'MATCH (n)-[:R]->(m)--(o) RETURN o',
      'MATCH (n) WHERE EXISTS { (n)-->(:B) } RETURN n',
    ],
  },
  {
    names: ['pattern', 'condition'],
    marks: '(',
    advises: ['EXISTS {'],
    texts: [
      'MATCH (p:Person), (m:Movie) WHERE (p)-[:ACTED_IN]->(m) AND m.year > 2000 RETURN p, m',
      'MATCH (p:Person) WHERE NOT (p)-[:ACTED_IN]->(:Movie) RETURN p.name',
      'MATCH (a)-[:R]->(b) WHERE NOT (b)-[:R]->(a) RETURN a',
      'MATCH (a) WHERE (a)-[:R]->()-[:S]->() RETURN a',
      'MATCH (a) WHERE (a)-[:R {x: 1}]->(:B {y: "z"}) RETURN a',
      'MATCH (a) WHERE (:X)-[:R]->(a) RETURN a',
      'MATCH (a) WHERE a.x > 1 AND (NOT (a)-[:R]->()) RETURN a',
    ],
  },
  {
    names: ['exists('],
    advises: ['IS NOT NULL'],
    texts: [
      'MATCH (p:Person) WHERE exists(p.email) RETURN p.name',
      'MATCH (a)-[r]->() WHERE exists(r.since) RETURN r',
      'MATCH (p) RETURN CASE WHEN exists(p.email) THEN 1 ELSE 0 END',
    ],
  },
  {
    names: ['COUNT {'],
    marks: 'COUNT',
    advises: ['OPTIONAL MATCH'],
    texts: [
      'MATCH (p:Person) WHERE COUNT { (p)-[:OWNS]->(:Car) } >= 2 RETURN p.name',
      'MATCH (p:Person) RETURN p.name, COUNT{(p)-[:OWNS]->()} AS cars ORDER BY cars DESC',
    ],
  },
  {
    names: ['EXISTS'],
    marks: 'RETURN',
    advises: ['RETURN'],
    texts: ['MATCH (p) WHERE EXISTS { MATCH (p)-[:R]->(c) WHERE c.x > p.x RETURN c.x AS x } RETURN p'],
  },
  {
    names: ['position'],
    marks: '[',
    advises: ['none here'],
    texts: [
      'MATCH (n) RETURN n.coords[0] + n.coords[1]',
      'MATCH (n) WHERE n.tags[0] = "a" RETURN n',
      'MATCH (n) RETURN labels(n)[0] AS kind',
      'MATCH (n) RETURN collect(n.name)[0]',
      'MATCH (n) RETURN split(n.name, " ")[0]',
    ],
  },
  {
    names: ['slice'],
    marks: '..',
    advises: ['TRIM(list'],
    texts: ['MATCH (n) RETURN collect(n.name)[..3] AS top', 'MATCH (n) RETURN n.tags[1..-1]'],
  },
  {
    names: ['projection'],
    marks: '{',
    advises: ['AS'],
    texts: [
      'MATCH (p:Person) RETURN p{.*} AS person',
      'MATCH (p:Person)-[:R]->(m) RETURN p {.name, m: m.title} AS row',
      'MATCH (p) RETURN p{.name,.age} LIMIT 5',
    ],
  },
  {
    names: ['SKIP'],
    advises: ['LIMIT'],
    texts: ['MATCH (n) RETURN n.name ORDER BY n.name LIMIT 10 SKIP 20'],
  },
  {
    names: ['RETURN *'],
    marks: '*',
    advises: ['alone'],
    texts: ['MATCH (a)-[r]->(b) RETURN *, r.x AS x ORDER BY x'],
  },
  {
    names: ['WHERE'],
    advises: ['before RETURN'],
    texts: ['MATCH (n:Person) RETURN n.name, count(*) AS c WHERE c > 2 ORDER BY c'],
  },
  {
    names: ['type('],
    advises: ['IS LABELED'],
    texts: [
      "MATCH (a)-[r]->(b) WHERE type(r) IN ['A', 'B'] RETURN a",
      'MATCH ()-[r]->() RETURN DISTINCT type(r) AS t ORDER BY t',
    ],
  },
  {
    names: ['id('],
    advises: ['ELEMENT_ID'],
    texts: [
      'MATCH (a), (b) WHERE id(a) < id(b) RETURN a, b',
      'MATCH (n) WHERE id(n) IN [1, 2] RETURN n',
      'MATCH (n) RETURN n ORDER BY id(n)',
    ],
  },
  {
    names: ['collect('],
    advises: ['COLLECT_LIST'],
    texts: [
      'MATCH (p)-[:R]->(m) RETURN p.name, collect(m.title) AS titles, count(*) AS n ORDER BY n DESC LIMIT 5',
    ],
  },
  {
    names: ['size('],
    advises: ['COUNT('],
    texts: [
      'MATCH (p) WHERE size((p)-[:R]->()) > 2 RETURN p',
      'MATCH (p) RETURN p.name, size((p)<-[:R]-()) AS n',
    ],
  },
  {
    names: ['length('],
    advises: ['PATH_LENGTH'],
    texts: ['MATCH p = (a)-[:R]->{1,4}(b) RETURN length(p) AS hops ORDER BY hops'],
  },
  { names: ['nodes('], advises: ['ELEMENTS'], texts: ['MATCH p = (a)-[:R]->{2}(b) RETURN nodes(p) AS ns'] },
  {
    names: ['toUpper('],
    advises: ['UPPER'],
    texts: ["MATCH (n) WHERE toUpper(n.code) = 'X' OR n.x = 1 RETURN n"],
  },
  { names: ['toInteger('], advises: ['CAST'], texts: ['MATCH (n) WHERE toInteger(n.year) >= 1990 RETURN n'] },
  { names: ['head('], advises: ['LIMIT 1'], texts: ['MATCH (n) RETURN head(collect(n.name))'] },
  {
    names: ['date('],
    advises: ["DATE '"],
    texts: ['MATCH (e) WHERE e.day >= date({year: 2020, month: 1, day: 1}) RETURN e'],
  },
  {
    names: ['datetime('],
    advises: ['DATETIME'],
    texts: [
      "MATCH (e) WHERE e.at > datetime() - duration('P7D') RETURN e",
      "MATCH (e) WHERE e.at >= datetime('2020-01-01') AND e.at < datetime('2021-01-01') RETURN e",
    ],
  },
  {
    names: ['duration('],
    advises: ["DURATION 'P"],
    texts: ['MATCH (e) WHERE e.at > date() - duration({days: 7}) RETURN e'],
  },
  {
    names: ['!='],
    advises: ['<>'],
    texts: [
      'MATCH (a)-[:R]->(b) WHERE a.name != b.name AND a.x = 1 RETURN a',
      'MATCH (a) WHERE a.x!=null RETURN a',
    ],
  },
  {
    names: ['any('],
    advises: ['IN'],
    texts: [
      "MATCH (n) WHERE any(label IN labels(n) WHERE label IN ['A', 'B']) RETURN n",
      'MATCH (n) WHERE any(k IN keys(n) WHERE n[k] = 1) RETURN n',
    ],
  },
  {
    names: ['all('],
    advises: ['path'],
    texts: ['MATCH p = (a)-[:R*]->(b) WHERE all(n IN nodes(p) WHERE n.ok) RETURN p'],
  },
  {
    names: ['none('],
    advises: ['NOT'],
    texts: ['MATCH p = (a)-[:R]->{1,3}(b) WHERE none(r IN relationships(p) WHERE r.closed = true) RETURN p'],
  },
  {
    names: ['reduce('],
    advises: ['SUM('],
    texts: [
      'MATCH p = (a)-[:R]->{1,3}(b) RETURN p, reduce(t = 0, r IN relationships(p) | t + r.cost) AS cost ORDER BY cost LIMIT 1',
    ],
  },
  {
    names: ['CALL'],
    advises: ['procedures'],
    texts: [
      'CALL db.schema.visualization()',
      'CALL gods.graph.project("g", "Person", "KNOWS") YIELD graphName RETURN graphName',
      'MATCH (n) CALL db.propertyKeys() YIELD propertyKey RETURN n, propertyKey',
    ],
  },
  {
    names: ['CALL'],
    advises: ['EXISTS {'],
    texts: ['MATCH (p:Person) CALL { WITH p MATCH (p)-[:R]->(m) RETURN m ORDER BY m.x LIMIT 3 } RETURN p, m'],
  },
  {
    names: ['FOREACH'],
    advises: ['only read'],
    texts: [
      'MATCH (a), (b) FOREACH (ignore IN CASE WHEN a.x > 1 THEN [1] ELSE [] END | CREATE (a)-[:R]->(b))',
    ],
  },
  {
    names: ['USING'],
    advises: ['plan'],
    texts: ['MATCH (p:Person {name: "A"}) USING INDEX p:Person(name) RETURN p'],
  },
  {
    names: ['EXPLAIN'],
    advises: ['--explain'],
    texts: ['EXPLAIN MATCH (n:Person)-[:R]->(m) WHERE n.x > 1 RETURN m'],
  },
  {
    names: ['%'],
    advises: ['MOD('],
    texts: [
      'MATCH (n) WHERE n.id % 5 = 0 AND n.x > 1 RETURN n',
      'MATCH (n) RETURN n.age - n.age % 10 AS decade, count(*)',
    ],
  },
  { names: ['^'], advises: ['POWER('], texts: ['MATCH (a), (b) RETURN sqrt((a.x - b.x)^2) AS d'] },
  {
    names: ['+'],
    advises: ['||'],
    texts: [
      "MATCH (n) RETURN n.first + ' ' + n.last AS name",
      "MATCH (n) WHERE n.code = 'A' + n.id RETURN n",
    ],
  },
  {
    names: ['{'],
    marks: '{',
    advises: ['$id'],
    texts: ['MATCH (n {id: {id}}) RETURN n', 'MATCH (n) WHERE n.id = {id} RETURN n'],
  },
  {
    names: ['propert'],
    marks: '[',
    advises: ['named'],
    texts: ["MATCH (n) WHERE n[$key] = 'x' RETURN n", 'MATCH (n) RETURN n["a b"]'],
  },
  { names: ['$props'], advises: ['{name: $name}'], texts: ['MATCH (n:Person $props)-[:R]->(m) RETURN m'] },
  {
    names: ['substring('],
    advises: ['LEFT('],
    texts: ['MATCH (n) WHERE substring(n.name, 0, 1) = "A" RETURN n'],
  },
  { names: ['keys('], advises: ['PROPERTY_EXISTS'], texts: ['MATCH (n) RETURN DISTINCT keys(n)'] },
  { names: ['startNode('], advises: ['pattern'], texts: ['MATCH (a)-[r]-(b) RETURN startNode(r).name'] },
  { names: ['properties('], advises: ['n.name'], texts: ['MATCH (n:Person) RETURN properties(n) AS p'] },
  { names: ['range('], advises: ['['], texts: ['MATCH (n) WHERE n.i IN range(1, 3) RETURN n.i'] },
  {
    names: ['LOAD CSV'],
    advises: ['only the graph'],
    texts: ["LOAD CSV WITH HEADERS FROM 'file:///a.csv' AS line MERGE (p:Person {id: line.id})"],
  },
  {
    names: ['REMOVE'],
    advises: ['only read'],
    texts: ['MATCH (p:Person {name: "A"}) REMOVE p:Admin RETURN p'],
  },
  {
    names: ['GROUP BY'],
    marks: '.',
    advises: ['AS'],
    texts: ['MATCH (n) RETURN n.city, avg(n.age) GROUP BY n.city ORDER BY n.city'],
  },
  { names: ['IN'], marks: '(', advises: ['['], texts: ["MATCH (n) WHERE n.name IN ('a', 'b') RETURN n"] },
  {
    names: ['point('],
    advises: ['none here'],
    texts: ['MATCH (a), (b) RETURN distance(point({x: 1, y: 2}), a.at)'],
  },
  {
    names: ['point.distance'],
    advises: ['no function'],
    texts: ['MATCH (a), (b) WHERE point.distance(a.at, b.at) < 100 RETURN a'],
  },
];

/** Texts that both read. */
export const READ: readonly string[] = [
  'MATCH (n) RETURN n',
  'MATCH (n:Town) RETURN n.name AS name ORDER BY name DESC SKIP 1 LIMIT 5',
  'MATCH (a)-[:ROAD]->(b) RETURN a, b',
  'MATCH (a)-[r:ROAD {km: 3}]->(b) WHERE r.km > 2 RETURN count(*)',
  'MATCH (a)-[r:A|B]->(b) RETURN DISTINCT r',
  'MATCH (a)<-[]-(b) RETURN b',
  'MATCH (a:A&B) RETURN a',
  'MATCH (a:A|B) RETURN a',
  'MATCH (a:!A) RETURN a',
  'MATCH (n) WHERE n:Town RETURN n',
  'MATCH (n) WHERE n.x IN [1, 2] AND NOT n.y = 3 RETURN n',
  'MATCH (n) WHERE n.x IS NULL XOR n.y IS NOT NULL RETURN n',
  'MATCH (n) OPTIONAL MATCH (n)-[:ROAD]->(m) RETURN n, m',
  'MATCH (n) RETURN CASE n.x WHEN 1 THEN "a" ELSE "b" END AS c',
  'MATCH (n) RETURN CASE WHEN n.x > 1 THEN 1 END AS c',
  'MATCH (n) WHERE EXISTS { (n)-[:ROAD]->(:Town) } RETURN n',
  'MATCH (n) WHERE EXISTS { MATCH (n)-[]->(m) WHERE m.x = 1 } RETURN n',
  'MATCH (n) RETURN coalesce(n.x, 0), abs(n.y), sqrt(n.z)',
  'MATCH (n) RETURN count(DISTINCT n.x), sum(n.y), avg(n.y), min(n.y), max(n.y)',
  "MATCH (n) WHERE n.day > date('2024-05-31') RETURN n // a comment",
  'MATCH (n) WHERE n.x <> $p AND n.y <= 2 RETURN n;',
  'MATCH p = (a)-[]->(b) RETURN p',
  'MATCH (`a b`) RETURN `a b`.x',
  'MATCH (n) RETURN n.x AS `the x`',
  'MATCH (a)-[]->{1,3}(b) RETURN b',
  'RETURN 1 AS one',
  'match (n) where n.name = "O\'Hara" return n',
  'MATCH (n) RETURN lTrim(n.name), rTrim(n.name)',
  'MATCH (n) RETURN left(n.name, 2), right(n.name, 2), trim(n.name), upper(n.name)',
  'MATCH (n) RETURN size([1, 2, 3])',
  '/* all */ MATCH (n) RETURN *',
];
