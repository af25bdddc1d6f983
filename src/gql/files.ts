/**
 * Patterns over graphs in CSV files: public exports beside `gql.ts`, separate so that the CSV reader is loaded only
 * when needed.
 */
export { type LoadOptions, loadGraphFiles } from './csv/load-csv.ts';
export { type MatchFilesInput, matchFiles } from './csv/match-files.ts';
export { CsvError, readGraphFiles } from './csv/read-csv.ts';
