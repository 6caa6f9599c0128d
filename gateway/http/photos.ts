import type { FastifyPluginAsync } from 'fastify';
import { LARGEST_PHOTO_BYTES } from '../photos.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { shape, text } from './schema/shape.js';

type Kept = { readonly id: string };

/** Photos for log entries: sent first, then named by the entry. */
export const photoRoutes =
  ({ photos }: Pick<AppParts, 'photos'>): FastifyPluginAsync =>
  async (app) => {
    app.addContentTypeParser(
      /^image\//,
      { parseAs: 'buffer', bodyLimit: LARGEST_PHOTO_BYTES },
      (_request, bytes, done) => done(null, bytes),
    );
    app.post<{ Body: unknown }>(
      '/photos',
      {
        ...route({
          tag: 'log',
          needs: 'crew',
          status: 201,
          summary: 'A photo as its bytes (JPEG, PNG or WebP); its name is the hash of them',
          answer: shape<Kept>({ id: text(64) }),
        }),
        bodyLimit: LARGEST_PHOTO_BYTES,
      },
      async (request, reply) => {
        const id = request.body instanceof Uint8Array ? photos.keep(request.body) : undefined;
        return id === undefined ? refuse(reply, 'no-photo') : reply.code(201).send({ id });
      },
    );
    app.get<{ Params: ById }>(
      '/photos/:id',
      route({
        tag: 'log',
        needs: 'viewer',
        summary: 'A photo',
        params: BY_ID,
        answer: { type: 'image/*', description: 'JPEG, PNG or WebP' },
      }),
      async ({ params: { id } }, reply) => {
        const photo = photos.read(id);
        if (photo === undefined) return refuse(reply, 'no-such-photo');
        return reply
          .type(photo.type)
          .header('cache-control', 'private, max-age=31536000, immutable')
          .send(photo.stream);
      },
    );
  };
