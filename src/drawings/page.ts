import { type LegendEntry, legend } from './legend.ts';
import { ASCENT, SIZES, wrapped } from './lettering.ts';
import type { Shape, Sheet } from './shapes.ts';

/** Room between the edge of a sheet and what is on it, mm. */
export const MARGIN = 3;

/** Heading and last lines of a sheet. */
export interface SheetWords {
  readonly title: string;
  readonly subtitle: string;
  /** What else is to be said of what it shows, a sentence each. */
  readonly notes?: readonly string[];
  /** Who is to be credited, a sentence each. */
  readonly credits: readonly string[];
}

/** A sheet that is filled from the top. */
export class Page {
  readonly shapes: Shape[] = [];
  readonly width: number;
  /** Where the next thing goes, mm from the top. */
  y = MARGIN;

  constructor(width: number) {
    this.width = width;
  }

  /** Room between the margins, mm. */
  get inner(): number {
    return this.width - 2 * MARGIN;
  }

  heading({ title, subtitle }: Pick<SheetWords, 'title' | 'subtitle'>): void {
    this.paragraph(title, SIZES.heading, { isBold: true });
    this.paragraph(subtitle, SIZES.caption, { isFaint: true });
    this.y += 1.5;
  }

  paragraph(
    text: string,
    size: number,
    { isBold = false, isFaint = false }: { readonly isBold?: boolean; readonly isFaint?: boolean } = {},
  ): void {
    // Bold is wider: lines are broken for it.
    for (const line of wrapped(text, this.inner / (isBold ? 1.2 : 1), size)) {
      this.shapes.push({
        kind: 'text',
        at: [MARGIN, this.y + ASCENT * size],
        text: line,
        size,
        ...(isBold ? { isBold } : {}),
        ...(isFaint ? { ink: 'faint' as const } : {}),
      });
      this.y += size * 1.32;
    }
  }

  /** Legend, what is to be said of the drawing, and credits. */
  end(entries: readonly LegendEntry[], notes: readonly string[], credits: readonly string[]): void {
    const drawn = legend(entries, [MARGIN, this.y], this.inner);
    this.shapes.push(...drawn.shapes);
    this.y += drawn.height + (entries.length > 0 ? 2 : 0);
    for (const note of notes) this.paragraph(note, SIZES.note);
    if (credits.length > 0) this.y += 1;
    for (const credit of credits) this.paragraph(credit, SIZES.note, { isFaint: true });
  }

  sheet(title: string, description: string): Sheet {
    const { width, shapes } = this;
    return { title, description, width, height: Math.ceil(this.y + MARGIN), shapes };
  }
}
