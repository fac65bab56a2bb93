/** The first screen of a new Tarebook: the lead's account, with the code that the console shows. */

import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { SessionReport } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { Welcome } from '../frame/welcome.tsx';
import { Button, Field } from '../pieces/controls.tsx';
import { Working } from '../pieces/states.tsx';

export function FirstAccount({ onDone }: { readonly onDone: () => void }) {
  const [form, setForm] = useState({ code: '', name: '', initials: '', password: '' });
  const create = useMutation({
    mutationFn: () => ask('/api/first-run', { method: 'POST', body: form, reply: SessionReport }),
    onSuccess: onDone,
  });
  const set = (field: keyof typeof form) => (value: string) => setForm({ ...form, [field]: value });
  const problem = (field: keyof typeof form) =>
    create.error instanceof ProblemError ? create.error.of(`/${field}`) : undefined;
  const isPlaced = create.error instanceof ProblemError && (create.error.report.problems?.length ?? 0) > 0;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    create.mutate();
  };
  return (
    <Welcome
      title={say`Welcome to Tarebook`}
      words={say`The weight-and-balance build ledger of your shop. First make the account of the one who leads; everyone else gets theirs from the lead.`}
    >
      <form className="stack" onSubmit={submit}>
        <Field
          label={say`Code from the console`}
          value={form.code}
          onChange={set('code')}
          hint={say`It stands in the window in which Tarebook was started.`}
          problem={problem('code')}
          autoComplete="one-time-code"
          autoFocus
        />
        <Field
          label={say`Your name`}
          value={form.name}
          onChange={set('name')}
          problem={problem('name')}
          autoComplete="username"
        />
        <Field
          label={say`Initials`}
          value={form.initials}
          onChange={set('initials')}
          hint={say`They stand beside every entry you make.`}
          problem={problem('initials')}
        />
        <Field
          label={say`Password`}
          type="password"
          value={form.password}
          onChange={set('password')}
          hint={say`At least 10 characters; a few words are good.`}
          problem={problem('password')}
          autoComplete="new-password"
        />
        {create.isError && !isPlaced ? (
          <p className="notice bad" role="alert">
            {wordsOf(create.error)}
          </p>
        ) : null}
        {create.isPending ? <Working words={say`Making the account, and a safe copy of the password`} /> : null}
        <Button
          kind="main"
          type="submit"
          isDisabled={create.isPending || Object.values(form).some((value) => value.trim() === '')}
        >{say`Make the account`}</Button>
      </form>
    </Welcome>
  );
}
