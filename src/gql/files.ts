/**
 * The second door of the pattern engine: patterns over graphs in CSV files. Apart from `gql.ts`, so that whoever needs no
 * files does not load what reads them.
 */
export { type MatchFilesInput, matchFiles } from './csv/match-files.ts';
export { CsvError, readGraphFiles } from './csv/read-csv.ts';
