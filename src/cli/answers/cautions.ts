import { limited } from '../../dossier/limited.ts';
import { formatProblem, type Problem } from '../../model/problems.ts';

/** Lines that tell of what is worth a second look and kept nothing out; the first hundred, and how many more there are. */
export function cautionLines(cautions: readonly Problem[]): readonly string[] {
  return limited(cautions).map(({ what, ...rest }) => formatProblem({ ...rest, what: `caution: ${what}` }));
}
