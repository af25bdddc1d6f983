import type { Scope } from '../../export/graph/graph.ts';
import { fileNameOf } from '../../model/ids.ts';

// Where files of exports are. Files of one scope stand beside each other, so that what one says of another by its name alone, as
// metadata of tables does, leads there.

/** A path of the service. */
export function addressOf(scope: Scope, file: string): string {
  const folder = scope.of === 'archive' ? [scope.of] : [scope.of, scope.id];
  return ['/exports', ...folder, file].join('/');
}

/** Name of the ZIP of all files of a kind. */
export function zipNameOf(format: string): string {
  return `${format}.zip`;
}

/** The name under which a browser saves a file: of ASCII letters, digits, hyphens and full stops, beginning with none of the latter two. */
export function savedAs(scope: Scope, file: string): string {
  return `${scope.of === 'archive' ? 'caseback' : fileNameOf(scope.id, '.')}.${file}`;
}
