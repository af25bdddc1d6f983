import { type Attributes, type Span, SpanStatusCode, trace } from '@opentelemetry/api';

/** Does nothing until a process registers a tracer provider (OpenTelemetry); the program itself brings none. */
export const tracer = trace.getTracer('caseback');

/**
 * Does some work within a span of that name, under the span that is active. Attributes say how much and of which kind, never what
 * was asked or recorded.
 */
export function inSpan<T>(name: string, attributes: Attributes, work: (span: Span) => T): T {
  return tracer.startActiveSpan(name, { attributes }, (span) => {
    try {
      const result = work(span);
      if (!(result instanceof Promise)) {
        span.end();
        return result;
      }
      return result.then(
        (settled) => {
          span.end();
          return settled;
        },
        (error) => failed(span, error),
      ) as T;
    } catch (error) {
      return failed(span, error);
    }
  });
}

/** Ends a span with the code of what went wrong; messages may quote what was asked. */
function failed(span: Span, error: unknown): never {
  span.setAttribute('error.type', codeOf(error));
  span.setStatus({ code: SpanStatusCode.ERROR });
  span.end();
  throw error;
}

function codeOf(error: unknown): string {
  const { code, name } = error as { readonly code?: unknown; readonly name?: unknown };
  return String(code ?? name ?? 'Error');
}
