/** The door to a brief as a file (rule B4): whoever may read the brief may take it along. */
import { createRoute, z } from '@hono/zod-openapi';
import { type DoorApp, needs, REFUSED } from '#api/door.ts';
import { Brief } from '#shared/contract/brief.ts';
import { briefAt, ofBrief } from './brief-doors.ts';
import { briefFile } from './brief-file.ts';
import { BRIEF_FILES, MEDIA_TYPES, PAPERS } from './file-kinds.ts';

const file = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/briefs/{briefId}/file',
  summary: 'A brief as a file: PDF on A4 or Letter, a workbook, CSV or JSON',
  ...needs('viewer'),
  request: {
    params: ofBrief,
    query: z.object({ as: z.enum(BRIEF_FILES), paper: z.enum(PAPERS).default('a4') }),
  },
  responses: {
    200: {
      description: 'The file, named after the aircraft and the brief',
      content: Object.fromEntries(
        BRIEF_FILES.map((kind) => [
          MEDIA_TYPES[kind],
          { schema: kind === 'json' ? Brief : z.string().openapi({ format: 'binary' }) },
        ]),
      ),
    },
    ...REFUSED,
  },
});

export function briefFileDoor(app: DoorApp): void {
  app.openapi(file, async (c) => {
    const { as, paper } = c.req.valid('query');
    const { brief } = await briefAt(c, c.req.valid('param').briefId);
    const { name, bytes } = await briefFile(brief, as, paper);
    const answer: Response = c.body(Uint8Array.from(bytes), 200, {
      'Content-Type': MEDIA_TYPES[as],
      'Content-Disposition': `attachment; filename="${name}"`,
      'Cache-Control': 'no-store',
    });
    return answer as never;
  });
}
