/**
 * The screens are built in the language of the shop: what say`…` and rich`…` hold is put into that language by the build, so that speaking it costs a browser
 * nothing, and no bundle has words that it does not show.
 */

import { type Plugin, parseSync } from 'vite';
import { isAsked, locale, translated } from '#words';
// biome-ignore lint/style/noRestrictedImports: it runs in the build, not in a browser
import { collectTerms, englishOf, type Node, tagOf } from '../api/words/collect.ts';

/** What is left to look up in a browser: messages by their number, and the values that the rules know. */
function catalogue(): string {
  const terms = translated === undefined ? new Set() : collectTerms();
  const left = Object.entries(translated ?? {}).filter(([key, words]) => typeof words === 'object' || terms.has(key));
  return `export const locale = ${JSON.stringify(locale)};
export const isAsked = ${isAsked};
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

type Placed = Node & { readonly start: number; readonly end: number };

/** What stands in a message comes in the order of the language. */
function plainTexts(file: string, code: string): string {
  const { program } = parseSync(file, code);
  return within(program as unknown as Placed, code);
}

function within(node: Placed, code: string): string {
  let text = '';
  let at = node.start;
  for (const message of messagesIn(node)) {
    text += code.slice(at, message.start) + plain(message, code);
    at = message.end;
  }
  return text + code.slice(at, node.end);
}

function plain(message: Placed, code: string): string {
  const { quasis, expressions } = message['quasi'] as {
    readonly quasis: readonly { readonly value: { readonly raw: string } }[];
    readonly expressions: readonly Placed[];
  };
  const words = translated?.[englishOf(message)];
  const inIt = expressions.map((expression) => `\${${within(expression, code)}}`);
  const text =
    typeof words === 'string'
      ? words.replace(/[\\`$]/g, '\\$&').replace(/\{(\d+)\}/g, (_, at) => inIt[Number(at)] ?? '')
      : quasis.map(({ value }, at) => value.raw + (inIt[at] ?? '')).join('');
  return tagOf(message) === 'rich' ? `rich\`${text}\`` : `\`${text}\``;
}

/** The outermost ones: others stand in these. */
function* messagesIn(node: Node): Generator<Placed> {
  if (tagOf(node) !== undefined) {
    yield node as Placed;
    return;
  }
  for (const inner of Object.values(node).flat())
    if (typeof inner === 'object' && inner !== null && 'type' in inner) yield* messagesIn(inner as Node);
}
