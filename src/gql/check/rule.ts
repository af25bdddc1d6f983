import type { FunctionTable } from '../expression/functions/define.ts';
import type { Query, Span } from '../language/ast.ts';
import type { ProblemCode, ProblemDetails } from '../language/problem.ts';
import type { Analysis } from './analysis.ts';

/** Names that a graph knows. What is left out is not checked. */
export interface Vocabulary {
  readonly labels?: Iterable<string>;
  readonly edgeLabels?: Iterable<string>;
  readonly properties?: Iterable<string>;
}

export interface CheckOptions {
  readonly vocabulary?: Vocabulary;
  /** What to make of a label or property that the vocabulary does not have. @default 'warning' */
  readonly unknownNames?: 'error' | 'warning';
  /** @default the functions of the standard */
  readonly functions?: FunctionTable;
  /** Parameters by name; unless given, parameters are not checked. */
  readonly parameters?: Readonly<Record<string, unknown>> | undefined;
}

/** What a rule sees, and where it puts what it finds. */
export interface CheckContext {
  readonly query: Query;
  readonly analysis: Analysis;
  readonly options: CheckOptions & { readonly functions: FunctionTable };
  report(code: ProblemCode, span: Span, message: string, details?: ProblemDetails): void;
}

/** One thing that must hold of a query. */
export interface Rule {
  /** The sentence that is enforced. */
  readonly sentence: string;
  readonly check: (context: CheckContext) => void;
  /** Whether it looks at one linear query at a time: then it is asked of each, those before NEXT and of UNION included. */
  readonly ofEach?: true;
}
