import type { Mirror } from './mirror.ts';

/** Whether a place is the address of a database; else it is a folder. */
export function isDatabase(place: string): boolean {
  return /^postgres(?:ql)?:\/\//iu.test(place);
}

/** Opens the mirror at an address or in a folder, to bring it to states. */
export async function openMirror(place: string): Promise<Mirror> {
  if (isDatabase(place)) {
    const { PostgresMirror } = await import('./postgres-mirror.ts');
    return PostgresMirror.open(place);
  }
  const { ParquetMirror } = await import('./parquet-mirror.ts');
  return new ParquetMirror(place);
}
