import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Drawing } from '../../drawings/shapes.ts';
import { SIDES } from '../../model/board.ts';
import { memberId, thingId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { drawBoard, drawDiagram } from '../../questions/drawings.ts';
import { audienceOf } from '../access/asker.ts';
import { conditional } from '../feeds/conditional.ts';
import type { Readiness } from '../server/health.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { inTime } from './in-time.ts';

/** Nothing in a drawing runs, loads or is framed, whatever is written into it. */
const POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";
/** Work of photos beneath a drawing, in units of one plain field. */
const COST_OF_PHOTO = 200;
/** A photo beneath it stands in the drawing itself; nothing is loaded. */
const POLICY_WITH_PHOTO = `${POLICY}; img-src data:`;

const BOARD = '/drawings/board/:device/:specimen/:board(^[a-z0-9-]+).svg';
const DIAGRAMS = [
  '/drawings/diagram/:device/:specimen(^[a-z0-9-]+).svg',
  '/drawings/diagram/:device/:specimen/:board(^[a-z0-9-]+).svg',
];

interface Specimen {
  readonly device: string;
  readonly specimen: string;
}

interface Asked {
  readonly lit?: string;
  readonly width?: string;
}

/**
 * Drawings as files: `GET /drawings/board/ID.svg`, with `side`, `lit` and `photos` (ids with commas between them), `width`, `plain` and
 * `photoStrength` as in GraphQL, and
 * `GET /drawings/diagram/ID.svg` of a specimen or board, with `passives`, `lit` and `width`.
 * @param time how long one may take to make, milliseconds
 */
export async function drawingRoutes(
  app: FastifyInstance,
  { readiness, time, rate }: { readonly readiness: Readiness; readonly time: number; readonly rate: Rate },
): Promise<void> {
  const viewFor = (request: FastifyRequest) => readiness.archive().state(audienceOf(request.who));
  app.get<{
    Params: Specimen & { readonly board: string };
    Querystring: Asked & {
      readonly side?: string;
      readonly plain?: string;
      readonly photoStrength?: string;
      readonly photos?: string;
    };
  }>(BOARD, async (request, reply) => {
    const { device, specimen, board } = request.params;
    const { side, plain, photoStrength, photos, ...asked } = request.query;
    const id = thingId(memberId(device, specimen), board);
    const question = {
      ...litAndWidth(asked),
      side: side === undefined ? undefined : sideOf(side),
      plain: plain === undefined ? undefined : flagOf(plain, 'plain'),
      photoStrength: photoStrength === undefined ? undefined : Number(photoStrength),
      photos: idsIn(photos),
    };
    const archive = readiness.archive();
    const view = archive.state(audienceOf(request.who));
    if (question.photoStrength) rate.charge(askerOf(request), COST_OF_PHOTO);
    const drawing = await inTime(reply, time, () =>
      drawBoard(view, id, question, { photos: archive.photos }),
    );
    return sendDrawing(request, reply, drawing, question.photoStrength ? POLICY_WITH_PHOTO : POLICY);
  });

  for (const address of DIAGRAMS)
    app.get<{
      Params: Specimen & { readonly board?: string };
      Querystring: Asked & { readonly passives?: string };
    }>(address, async (request, reply) => {
      const { device, specimen, board } = request.params;
      const { passives, ...asked } = request.query;
      const whole = memberId(device, specimen);
      const id = board === undefined ? whole : thingId(whole, board);
      const question = {
        ...litAndWidth(asked),
        passives: passives === undefined ? undefined : flagOf(passives, 'passives'),
      };
      const view = viewFor(request);
      const drawing = await inTime(reply, time, () => drawDiagram(view, id, question));
      return sendDrawing(request, reply, drawing);
    });
}

function litAndWidth({ lit, width }: Asked) {
  return {
    lit: idsIn(lit),
    width: width === undefined ? undefined : Number(width),
  };
}

const idsIn = (written: string | undefined) => written?.split(',').filter((one) => one !== '');

function flagOf(written: string, name: string): boolean {
  if (written !== 'true' && written !== 'false')
    throw new CasebackError('BAD_INPUT', `${name} is neither true nor false; write one of them`);
  return written === 'true';
}

function sideOf(written: string) {
  const side = SIDES.find((one) => one === written.toLowerCase());
  if (side === undefined)
    throw new CasebackError(
      'BAD_INPUT',
      'side is neither top nor bottom; write one of them, or leave it out for both',
    );
  return side;
}

/** A drawing with the digest of its bytes as its entity tag. */
function sendDrawing(
  request: FastifyRequest,
  reply: FastifyReply,
  { svg }: Drawing,
  policy = POLICY,
): FastifyReply {
  const etag = `"${createHash('sha256').update(svg).digest('base64url').slice(0, 27)}"`;
  reply.headers({
    'cache-control': 'no-cache',
    vary: 'authorization, cookie',
    'content-security-policy': policy,
  });
  return conditional(request, reply, { etag }, () => reply.type('image/svg+xml; charset=utf-8').send(svg));
}
