/**
 * The screens are built in the language of the shop: what say`…` and rich`…` hold is put into that language by the build, so that speaking it costs a browser
 * nothing, and no bundle has words that it does not show.
 */

import { type Plugin, parseSync } from 'vite';
import { locale, translated } from '#words';
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { collectTerms } from '../api/words/collect.ts';

/** What is left to look up in a browser: messages by their number, and the values that the rules know. */
function catalogue(): string {
  const terms = translated === undefined ? new Set() : collectTerms();
  const left = Object.entries(translated ?? {}).filter(([key, words]) => typeof words === 'object' || terms.has(key));
  return `export const locale = ${JSON.stringify(locale)};
export const translated = ${translated === undefined ? undefined : JSON.stringify(Object.fromEntries(left))};
`;
}

export function spoken(): Plugin {
  return {
    name: 'spoken',
    enforce: 'pre',
    resolveId: (id) => (id === '#words' ? id : undefined),
    load: (id) => (id === '#words' ? catalogue() : undefined),
    transform: (code, id) => (/say`|rich`/.test(code) && /\.tsx?$/.test(id) ? plainTexts(id, code) : undefined),
    transformIndexHtml: (html) => html.replace('<html lang="en">', `<html lang="${locale}">`),
  };
}

type Node = { readonly type: string; readonly start: number; readonly end: number; readonly [name: string]: unknown };
type Text = { readonly start: number; readonly quasis: readonly Quasi[]; readonly expressions: readonly Node[] };
type Quasi = { readonly value: { readonly raw: string; readonly cooked: string } };

/** What stands in a message comes in the order of the language. */
function plainTexts(file: string, code: string): string {
  const { program } = parseSync(file, code);
  return within(program as unknown as Node, code);
}

function within(node: Node, code: string): string {
  let text = '';
  let at = node.start;
  for (const { start, end, tag, quasi } of messagesIn(node)) {
    text += code.slice(at, start) + (nameOf(tag) === 'rich' ? 'rich' : '') + plain(quasi as Text, code);
    at = end;
  }
  return text + code.slice(at, node.end);
}

function plain({ quasis, expressions }: Text, code: string): string {
  const key = quasis.reduce(
    (before, { value }, at) => (at === 0 ? value.cooked : `${before}{${at - 1}}${value.cooked}`),
    '',
  );
  const words = translated?.[key];
  const inIt = expressions.map((expression) => `\${${within(expression, code)}}`);
  if (typeof words !== 'string') return `\`${quasis.map(({ value }, at) => value.raw + (inIt[at] ?? '')).join('')}\``;
  return `\`${words.replace(/[\\`$]/g, '\\$&').replace(/\{(\d+)\}/g, (_, at) => inIt[Number(at)] ?? '')}\``;
}

const TAGS = new Set(['say', 'rich']);

function nameOf(tag: unknown): string {
  return (tag as { readonly name?: string }).name ?? '';
}

/** The outermost ones: others stand in these. */
function* messagesIn(node: Node): Generator<Node> {
  if (node.type === 'TaggedTemplateExpression' && TAGS.has(nameOf(node['tag']))) {
    yield node;
    return;
  }
  for (const inner of Object.values(node).flat())
    if (typeof inner === 'object' && inner !== null && 'type' in inner) yield* messagesIn(inner as Node);
}
