import { useEffect, useRef } from 'react';
import {
  autocompletion,
  type CompletionContext,
  type CompletionResult,
} from '@codemirror/autocomplete';
import { yaml } from '@codemirror/lang-yaml';
import { HighlightStyle, syntaxHighlighting } from '@codemirror/language';
import { lintGutter, setDiagnostics, type Diagnostic } from '@codemirror/lint';
import { Annotation, EditorState } from '@codemirror/state';
import { EditorView } from '@codemirror/view';
import { tags } from '@lezer/highlight';
import { basicSetup } from 'codemirror';
import { fieldsFor, mapAt } from '#catalogue';
import { useText } from '../text/text.ts';
import type { Heed } from './desk.ts';

/** Written by a form or by "Undo", and not by the author's keys. */
const fromOutside = Annotation.define<boolean>();

/** In the colours of the page, which reach into a shadow root. */
const look = EditorView.theme({
  '&': {
    border: '2px solid var(--edge)',
    background: 'var(--paper)',
    color: 'var(--ink)',
    fontSize: '0.9375rem',
  },
  '&.cm-focused': { outline: '3px solid var(--course)' },
  '.cm-gutters': { background: 'var(--wash)', color: 'var(--quiet)', border: '0' },
  '.cm-activeLine, .cm-activeLineGutter': { background: 'var(--wash)' },
  '.cm-cursor': { borderLeftColor: 'var(--ink)' },
  // The page scrolls, not a box in it: a box would need a stop of its own for the keyboard.
  '.cm-scroller': { overflow: 'visible' },
  '.cm-tooltip': {
    background: 'var(--paper)',
    color: 'var(--ink)',
    border: '2px solid var(--ink)',
  },
});

/** Told apart by weight and slant: colours mean something else here. */
const letters = HighlightStyle.define([
  { tag: [tags.propertyName, tags.definition(tags.propertyName)], fontWeight: '700' },
  { tag: tags.comment, color: 'var(--quiet)', fontStyle: 'italic' },
  { tag: [tags.string, tags.number, tags.bool, tags.content], color: 'var(--ink)' },
]);

/**
 * The author's file as text, with the schema's completion and help, and the
 * mistakes beside their lines. It stands in a shadow root: there the editor
 * adopts its style sheets, where in the page it would write them inline, which
 * the policy forbids.
 */
export default function Yaml({
  text,
  type,
  heeds,
}: {
  text: string;
  type: (text: string) => void;
  heeds: readonly Heed[];
}) {
  const label = useText()('shop-yaml');
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<EditorView | null>(null);
  const typed = useRef(type);
  useEffect(() => {
    typed.current = type;
  });
  useEffect(() => {
    const place = host.current;
    if (place === null) return;
    const root = place.shadowRoot ?? place.attachShadow({ mode: 'open' });
    const editor = new EditorView({
      parent: root,
      root,
      state: EditorState.create({
        doc: '',
        extensions: [
          basicSetup,
          yaml(),
          lintGutter(),
          autocompletion({ override: [complete] }),
          EditorView.lineWrapping,
          EditorView.contentAttributes.of({
            'aria-label': label,
            tabindex: '0',
          }),
          look,
          syntaxHighlighting(letters),
          EditorView.updateListener.of((update) => {
            const own = update.transactions.every((t) => t.annotation(fromOutside) !== true);
            if (update.docChanged && own) typed.current(update.state.doc.toString());
          }),
        ],
      }),
    });
    view.current = editor;
    return () => {
      view.current = null;
      editor.destroy();
    };
  }, [label]);
  useEffect(() => {
    const editor = view.current;
    if (editor === null || editor.state.doc.toString() === text) return;
    editor.dispatch({
      changes: { from: 0, to: editor.state.doc.length, insert: text },
      annotations: fromOutside.of(true),
    });
  }, [text, label]);
  useEffect(() => {
    const editor = view.current;
    if (editor === null) return;
    editor.dispatch(setDiagnostics(editor.state, diagnostics(editor, heeds)));
  }, [heeds, text, label]);
  return <div ref={host} className="yaml" />;
}

function diagnostics(editor: EditorView, heeds: readonly Heed[]): Diagnostic[] {
  return heeds.flatMap((h): Diagnostic[] => {
    if (h.line === null || h.line > editor.state.doc.lines) return [];
    const line = editor.state.doc.line(h.line);
    return [
      {
        from: line.from,
        to: line.to,
        severity: h.sort === 'error' ? 'error' : 'warning',
        message: h.text,
      },
    ];
  });
}

/** Fields that may stand here, with the schema's words; behind a colon, the words that the field takes. */
function complete(context: CompletionContext): CompletionResult | null {
  const line = context.state.doc.lineAt(context.pos);
  const before = line.text.slice(0, context.pos - line.from);
  const lines = context.state.doc.toString().split('\n');
  const fields = fieldsFor(mapAt(lines, line.number - 1));
  const value = /^\s*(?:- )*([\w-]+):\s*([\w-]*)$/.exec(before);
  if (value !== null) {
    const field = fields.find((f) => f.name === value[1]);
    const words = field?.flag === true ? ['true', 'false'] : (field?.values ?? []);
    return words.length === 0
      ? null
      : {
          from: context.pos - (value[2] ?? '').length,
          options: words.map((label) => ({ label, type: 'constant' })),
        };
  }
  const key = /^\s*(?:- )*([\w-]*)$/.exec(before);
  if (key === null || (key[1] === '' && !context.explicit)) return null;
  return {
    from: context.pos - (key[1] ?? '').length,
    options: fields.map((f) => ({
      label: f.name,
      apply: `${f.name}: `,
      type: 'property',
      info: f.about,
    })),
  };
}
