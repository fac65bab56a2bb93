/** Every word that people read, collected from the code: what a translation has to say. `npm run words` writes it to `shared/words/in/en.json`. */
import { globSync, readFileSync } from 'node:fs';
import { parseSync } from 'vite';
import { keyOf, type Words } from '#shared/words/say.ts';

const ROOT = `${import.meta.dirname}/../..`;

/** A node of the code, as the parser has it (ESTree). */
export type Node = { readonly type: string; readonly [name: string]: unknown };

/** The values that the rules know by name: they are looked up when they are shown, and not where they are written. */
export function collectTerms(): ReadonlySet<string> {
  return new Set(
    [...sources()].flatMap(({ file, nodes }) => (file.startsWith('shared/') ? nodes.flatMap(termsOf) : [])),
  );
}

/** In the order of the files and of the lines in them, so that what stands together is translated together. */
export function collectWords(): Words {
  const words: Record<string, string | { one: string; other: string }> = {};
  for (const { file, nodes } of sources()) {
    for (const node of nodes) {
      const english = tagOf(node) === undefined ? [] : [englishOf(node)];
      for (const key of [...english, ...(file.startsWith('shared/') ? termsOf(node) : [])]) words[key] ??= key;
      const [one, many] = countedBy(node, file);
      if (one !== undefined) words[`${one}|${many}`] ??= { one: `{0} ${one}`, other: `{0} ${many}` };
    }
  }
  return words;
}

function* sources(): Generator<{ readonly file: string; readonly nodes: readonly Node[] }> {
  for (const file of globSync('{client,shared,api,db}/**/*.{ts,tsx}', {
    cwd: ROOT,
    exclude: ['client/dist/**'],
  }).sort()) {
    const { program } = parseSync(file, readFileSync(`${ROOT}/${file}`, 'utf8'));
    yield { file, nodes: [...nodesIn(program)] };
  }
}

/** Which of the two says the message, where a node of the code is one. */
export function tagOf(node: Node): 'say' | 'rich' | undefined {
  const name = node.type === 'TaggedTemplateExpression' ? nameOf(node['tag']) : '';
  return name === 'say' || name === 'rich' ? name : undefined;
}

/** The English of say`…` or rich`…`. */
export function englishOf(message: Node): string {
  const { quasis } = message['quasi'] as { quasis: readonly { value: { cooked: string } }[] };
  const strings = quasis.map(({ value }) => value.cooked);
  return keyOf(Object.assign(strings, { raw: strings }));
}

/** Each value of a list that the rules know. */
function termsOf(node: Node): readonly string[] {
  if (node.type === 'CallExpression' && src(node['callee']) === 'z.literal')
    return textsIn({ type: 'ArrayExpression', elements: node['arguments'] });
  if (node.type === 'CallExpression' && src(node['callee']) === 'z.enum')
    return textsIn((node['arguments'] as Node[])[0]);
  // export const ROLES = ['viewer', …] as const
  if (node.type === 'TSAsExpression' && nameOf((node['typeAnnotation'] as Node)['typeName']) === 'const')
    return textsIn(node['expression'] as Node);
  return [];
}

function countedBy(node: Node, file: string): readonly (string | undefined)[] {
  if (node.type !== 'CallExpression' || nameOf(node['callee']) !== 'counted') return [];
  const forms = (node['arguments'] as Node[]).slice(1).map((one) => one['value']);
  if (forms.length !== 2 || !forms.every((one) => typeof one === 'string'))
    throw new Error(`${file}: counted() wants both of its forms as plain texts, so that they can be collected`);
  return forms as string[];
}

/** Words only: units and the like stand for themselves. */
function textsIn(node: Node | undefined): readonly string[] {
  if (node?.type !== 'ArrayExpression') return [];
  return (node['elements'] as Node[]).flatMap(({ type, value }) =>
    type === 'Literal' && typeof value === 'string' && /[a-z]{3}/i.test(value) ? [value] : [],
  );
}

function nameOf(node: unknown): string {
  return ((node as Node | undefined)?.['name'] as string | undefined) ?? '';
}

function src(node: unknown): string {
  const { object, property } = node as Node;
  return object === undefined ? nameOf(node) : `${nameOf(object)}.${nameOf(property)}`;
}

function* nodesIn(value: unknown): Generator<Node> {
  if (typeof value !== 'object' || value === null) return;
  if ('type' in value && typeof value.type === 'string') yield value as Node;
  for (const inner of Object.values(value)) yield* nodesIn(inner);
}
