/** The first step: a file chosen or dropped, or cells pasted. Nothing leaves the browser yet. */

import { useState } from 'react';
import { DropZone, FileTrigger, isFileDropItem, Label, TextArea, TextField } from 'react-aria-components';
import { explain } from '#shared/problem/registry.ts';
import type { Result } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { type Brought, type NotRead, readFile, readText } from './read-file.ts';

const TYPES = ['.csv', '.tsv', '.txt', '.xlsx', 'text/csv', 'text/tab-separated-values'];

export function Choose({ onBrought }: { readonly onBrought: (brought: Brought) => void }) {
  const [problem, setProblem] = useState<NotRead & { readonly name: string }>();
  const [pasted, setPasted] = useState('');
  const take = (read: Result<Brought, NotRead>, name: string) => {
    setProblem(read.ok ? undefined : { ...read.refusal, name });
    if (read.ok) onBrought(read.value);
  };
  const takeFile = async (file: File | undefined | null) => {
    if (file !== undefined && file !== null) take(await readFile(file), file.name);
  };
  return (
    <div className="choose">
      <section className="card stack">
        <h2>{say`A file`}</h2>
        <p>{say`A parts list, weighings or targets, as CSV or as an XLSX workbook. Its columns may have any order.`}</p>
        <DropZone
          className="drop-zone"
          aria-label={say`Drop a file here`}
          onDrop={(event) => {
            const item = event.items.find(isFileDropItem);
            void item?.getFile().then(takeFile);
          }}
        >
          <p className="soft drop-words">{say`Drop it here, or`}</p>
          <FileTrigger acceptedFileTypes={TYPES} onSelect={(files) => void takeFile(files?.[0])}>
            <Button kind="main">{say`Choose a file`}</Button>
          </FileTrigger>
        </DropZone>
      </section>
      <section className="card stack">
        <h2>{say`Or copied cells`}</h2>
        <TextField className="field" value={pasted} onChange={setPasted}>
          <Label>{say`Cells from a spreadsheet, with their headings`}</Label>
          <TextArea
            rows={5}
            onPaste={(event) => {
              const text = event.clipboardData.getData('text/plain');
              if (pasted !== '' || !text.includes('\n')) return;
              event.preventDefault();
              setPasted(text);
              take(readText(text, PASTED), PASTED);
            }}
          />
        </TextField>
        <div>
          <Button
            isDisabled={pasted.trim() === ''}
            onPress={() => take(readText(pasted, PASTED), PASTED)}
          >{say`Read the cells`}</Button>
        </div>
      </section>
      {problem === undefined ? null : (
        <p className="notice bad" role="alert">
          {problem.name}
          {problem.line > 0 ? say`, line ${problem.line}` : ''}: {explain(problem.refusal).words}{' '}
          {explain(problem.refusal).remedy}
        </p>
      )}
    </div>
  );
}

const PASTED = say`Copied cells`;
