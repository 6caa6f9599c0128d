import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';
import { alarmOf } from '../../support/pretend-watch.js';

type Operation = {
  readonly summary?: string;
  readonly parameters?: readonly { readonly in: string; readonly name: string; readonly required?: boolean }[];
  readonly responses: Readonly<
    Record<
      string,
      { readonly description?: string; readonly content?: Readonly<Record<string, { readonly schema?: object }>> }
    >
  >;
};
type Document = {
  readonly openapi: string;
  readonly info: object;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, object>> };
};

const documentOf = async (room: Room): Promise<Document> =>
  (await room.ask('nobody', { url: '/api/v1/openapi.json' })).json();

const operationsOf = ({ paths }: Document) =>
  Object.entries(paths).flatMap(([path, operations]) =>
    Object.entries(operations).map(([method, operation]) => ({ path, method, operation })),
  );

/** Every schema compiles with its references, as JSON Schema 2020-12, which OpenAPI 3.1 uses. */
const compilerFor = (document: Document): Ajv2020 => {
  const ajv = new Ajv2020({ strict: false, inlineRefs: false });
  ajv.addSchema({ $id: 'document', components: document.components });
  return ajv;
};

const withBase = (schema: object): object =>
  JSON.parse(JSON.stringify(schema).replaceAll('"#/components', '"document#/components'));

describe('the list of the API', () => {
  test('is a whole OpenAPI 3.1 document: each address says what it takes and gives', async () => {
    const document = await documentOf(await gatewayRoom());
    expect(document.openapi).toBe('3.1.0');
    const ajv = compilerFor(document);
    for (const { path, method, operation } of operationsOf(document)) {
      const line = `${method} ${path}`;
      expect(operation.summary, line).toBeTruthy();
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      const described = (operation.parameters ?? []).filter((each) => each.in === 'path' && each.required === true);
      expect(
        described.map(({ name }) => name),
        line,
      ).toEqual(inPath);
      expect(Object.keys(operation.responses), line).toContain('default');
      expect(operation.responses.default?.content, line).toHaveProperty(['application/problem+json', 'schema']);
      for (const [status, { description, content = {} }] of Object.entries(operation.responses)) {
        expect(description, `${line} ${status}`).toBeTruthy();
        for (const { schema } of Object.values(content)) if (schema !== undefined) ajv.compile(withBase(schema));
      }
    }
  });

  test('says the truth: what is answered has the shape that is described', async () => {
    const room = await gatewayRoom();
    room.watch.alarm(alarmOf('a1'));
    room.journal.land({
      readings: [{ sourceId: 1, deviceMs: 5_000, arrivalMs: 5_000, raw: 26, flags: 0 }],
      revisions: [],
      alarms: [],
      malformed: [
        {
          atMs: 5_000,
          topic: 'boards/b1/x',
          board: 'b1',
          code: 'not-a-number',
          parameters: { text: 'x' },
          payload: new Uint8Array([120]),
        },
      ],
      boards: [],
      packets: [],
    });
    const document = await documentOf(room);
    const ajv = compilerFor(document);
    const span = 'from=1000&to=2000';
    const urls: Readonly<Record<string, string>> = {
      '/api/v1/channels/{id}/readings': `/api/v1/channels/l2.temperature/readings?${span}`,
      '/api/v1/places/{id}': '/api/v1/places/l2',
    };
    for (const { path, method, operation } of operationsOf(document)) {
      const schema = operation.responses['200']?.content?.['application/json']?.schema;
      const url = urls[path] ?? path;
      const asksMore = (operation.parameters ?? []).some((each) => each.in === 'query' && each.required === true);
      if (method !== 'get' || schema === undefined || url.includes('{') || (asksMore && url === path)) continue;
      const validate = ajv.compile(withBase(schema));
      const reply = await room.ask('manager', { url });
      expect(reply.statusCode, path).toBe(200);
      validate(reply.json());
      expect(validate.errors, path).toBeNull();
    }
  });
});
