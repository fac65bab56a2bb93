/**
 * The command (rule K1): its verbs and options, and the one place where a refusal or a fault becomes an exit status.
 */
import { Argument, Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { z } from 'zod';
import { PAPERS } from '#api/brief/file-kinds.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { SPLITS } from '#shared/contract/drift.ts';
import { DRIFT_ORDERS } from '#shared/drift/report.ts';
import { say } from '#shared/words/say.ts';
import { actsCommand } from './acts-command.ts';
import { listCommand } from './aircraft-command.ts';
import { backupCommand } from './backup-command.ts';
import { BRIEF_ACTS, type BriefOptions, type BriefVerb, briefCommand } from './brief-command.ts';
import { bringCommand } from './bring-command.ts';
import { checkpointCommand } from './checkpoint-command.ts';
import { inOurWords } from './commander-words.ts';
import { demoCommand } from './demo-command.ts';
import { exportCommand } from './export-command.ts';
import { importCommand } from './import-command.ts';
import { VIEWS } from './print.ts';
import { recordCommand } from './record-command.ts';
import { printProblems, Refused } from './refused.ts';
import { restoreCommand } from './restore-command.ts';
import { showCommand } from './show-command.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { targetsCommand } from './targets-command.ts';
import { verifyCommand } from './verify-command.ts';
import { DEFAULT_FOLDER } from './with-store.ts';

/** Runs the command and answers the exit status. Never throws. */
export async function runCommand(words: readonly string[], surroundings: Surroundings): Promise<Exit> {
  let exit: Exit = EXIT.done;
  const json = words.includes('--json');
  const program = programOf(surroundings, json, (answer) => {
    exit = answer;
  });
  try {
    await program.parseAsync(words, { from: 'user' });
    return exit;
  } catch (error) {
    return explainFailure(error, surroundings, json);
  }
}

function explainFailure(error: unknown, surroundings: Surroundings, json: boolean): Exit {
  if (error instanceof CommanderError) {
    // Asking for help is no mistake. Else Commander has printed its own message, but for a program that reads JSON.
    if (error.exitCode === 0) return EXIT.done;
    if (json)
      surroundings.out.write(
        `${JSON.stringify({ problems: [{ code: 'usage', words: inOurWords(error.message), remedy: HOW_TO_ASK }] }, null, 2)}\n`,
      );
    return EXIT.badInput;
  }
  if (error instanceof Refused) return printProblems(error.problems, surroundings, { json });
  if (error instanceof StoreRefusal) {
    if (json)
      surroundings.out.write(
        `${JSON.stringify({ problems: [{ code: error.code, words: error.message, remedy: error.remedy }] }, null, 2)}\n`,
      );
    else surroundings.err.write(`${error.message}\n`);
    return EXIT.badInput;
  }
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  surroundings.err.write(`${say`Something broke inside Tarebook; nothing was half-recorded.`}\n${detail}\n`);
  return EXIT.broken;
}

const HELP = say`display help for command`;
const HOW_TO_ASK = say`Add --help to see what can be said here.`;

function programOf(surroundings: Surroundings, json: boolean, answer: (exit: Exit) => void): Command {
  const program = new Command('tarebook');
  program
    .description(
      say`Airframe weight-and-balance build ledger: parts and weighings in, running empty weight and CG out.`,
    )
    .exitOverride()
    .configureHelp({
      optionDescription: describeOption,
      argumentDescription: describeArgument,
      styleTitle: inOurWords,
    })
    .helpOption('-h, --help', HELP)
    .helpCommand('help [command]', HELP)
    .configureOutput({
      outputError: (text, write) => write(inOurWords(text)),
      writeOut: (text) => void surroundings.out.write(text),
      writeErr: (text) => void (json || surroundings.err.write(text)),
    })
    .showHelpAfterError(HOW_TO_ASK);
  // Called for each verb: what a parent has configured is handed down to verbs made by `command`.
  const verb = (name: string, description: string) => withPlace(program.command(name).description(description));
  importVerb(verb('import', say`import a parts list, targets and weighings, all or nothing`), surroundings, answer);
  targetsVerb(verb('targets', say`set the target baseline, or a new revision of it`), surroundings, answer);
  showVerb(verb('show', say`print the ledger`), surroundings, answer);
  recordVerb(verb('record', say`record entries of any kind from a JSON file`), surroundings, answer);
  briefVerb(
    verb('brief', say`make, list and show briefs: one page of where the aircraft stands`),
    surroundings,
    answer,
  );
  verb('verify', say`walk the chain of entries and name the first that does not fit`)
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .option('--against <file>', say`hold it against a checkpoint page as well`)
    .option('--key <fingerprint>', say`the key that the page must be signed with, by its fingerprint from paper`)
    .option('--page-only', say`look at the page alone, where there is no ledger`, false)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await verifyCommand(options, surroundings)));
  verb('checkpoint', say`sign how the ledger stands, as a page for the paper file`)
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .requiredOption('--out <file>', say`a text file that does not exist yet`)
    .option(
      '--checkpoint-key <file>',
      say`the private key (default: checkpoint-key.pem in the data folder, made where there is none)`,
    )
    .option('--by <initials>', say`who makes it`)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await checkpointCommand(options, surroundings)));
  verb('aircraft', say`list the aircraft in the store`)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await listCommand(options, surroundings)));
  verb('acts', say`list who did what beside the ledgers: signed in, changed an account, made a backup`)
    .option('--last <count>', say`print only the last ones (default: 50)`, wholeNumber)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await actsCommand(options, surroundings)));
  verb('export', say`carry a whole aircraft out into a folder of tables (CSV), or a ZIP file of them`)
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .requiredOption('--to <place>', say`a folder or a ZIP file that does not exist yet`)
    .option('--by <initials>', say`who carries it out`)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await exportCommand(options, surroundings)));
  verb('bring', say`bring in an aircraft that was carried out, all of it or nothing`)
    .requiredOption('--from <place>', say`the folder or the ZIP file`)
    .option('--as <name>', say`the name it has here; else its own`)
    .option('--by <initials>', say`who brings it in`)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await bringCommand(options, surroundings)));
  verb('backup', say`back the whole store up into one file, while others work on it`)
    .option(
      '--to <file>',
      say`a file that does not exist yet (default: one named after the moment, in the folder of backups)`,
    )
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await backupCommand(options, surroundings)));
  verb('restore', say`restore a backup into an empty store, all of it or nothing, and verify it`)
    .requiredOption('--from <file>', say`the backup`)
    .option('--check', say`only look whether the file is whole; restore nothing`, false)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await restoreCommand(options, surroundings)));
  verb('demo', say`create the demonstration aircraft, which is invented, to look round in`)
    .option('--by <initials>', say`who asks for it`)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await demoCommand(options, surroundings)));
  return program;
}

/** A flag is off and a list is empty unless it is given, which goes without saying; the default among choices does not. */
function describeOption({ description, argChoices, defaultValue }: Option): string {
  if (argChoices === undefined) return description;
  const choices = `${description}: ${argChoices.join(', ')}`;
  return defaultValue === undefined ? choices : say`${choices} (default: ${String(defaultValue)})`;
}

function describeArgument({ description, argChoices, defaultValue }: Argument): string {
  if (argChoices === undefined) return description;
  const quoted = argChoices.map((choice) => `"${choice}"`).join(', ');
  return say`${description} (choices: ${quoted}, default: "${String(defaultValue)}")`;
}

type Verb = (command: Command, surroundings: Surroundings, answer: (exit: Exit) => void) => void;

const importVerb: Verb = (command, surroundings, answer) =>
  void withViews(command)
    .requiredOption('--aircraft <name>', say`the aircraft, by name; made new where none has this name`)
    .option('--parts <file>', say`parts list (CSV)`)
    .option('--weighings <file>', say`weighings (CSV)`)
    .option('--targets <file>', say`target baseline (CSV of two columns, target and value)`)
    .option(
      '--column <field=heading>',
      say`a heading that stands for a field, for example "estimate=planned mass"`,
      pair,
      {},
    )
    .option('--revise', say`take changed estimates of known parts as revisions`, false)
    .option('--by <initials>', say`who imports, where a row does not say who`)
    .option('--date <day>', say`the day it happened, where a row does not say (default: today)`)
    .option('--datum <words>', say`for a new aircraft: where the datum lies`)
    .option('--mac <length>', say`for a new aircraft: mean aerodynamic chord, for example "1.32 m"`)
    .option('--lemac <station>', say`for a new aircraft: station of the leading edge of the chord`)
    .option('--mass-unit <unit>', say`for a new aircraft: unit in which masses are shown (kg, g, lb, oz)`)
    .option('--length-unit <unit>', say`for a new aircraft: unit in which stations are shown (m, mm, cm, in, ft)`)
    .action(async (options) => answer(await importCommand(options, surroundings)));

const targetsVerb: Verb = (command, surroundings, answer) =>
  void command
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .option('--file <file>', say`CSV of two columns, target and value`)
    .option('--empty-mass <mass>', say`empty-weight target, for example "372 kg"`)
    .option('--reserve <mass>', say`part of the target kept back`)
    .option('--cg-forward <station>', say`forward end of the empty CG range: "1.85 m" or "20 % MAC"`)
    .option('--cg-aft <station>', say`aft end of the empty CG range`)
    .option('--group <name=mass>', say`target of a group; may be given again`, pair, {})
    .option('--part-limit <mass>', say`a part drifts beyond the larger of this and the share`)
    .option('--part-limit-share <percent>', say`for example "6 %"`)
    .option('--reason <words>', say`why the targets change; needed from the second time on`)
    .option('--by <initials>', say`who sets the targets`)
    .option('--date <day>', say`the day from which they hold (default: today)`)
    .option('--json', say`print JSON`, false)
    .action(async (options) => answer(await targetsCommand(options, surroundings)));

const showVerb: Verb = (command, surroundings, answer) =>
  void withViews(command)
    .argument('[views...]', say`what to print: ${VIEWS.join(', ')}`)
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .option('--as-known-at <entry>', say`the ledger as it was known at that entry`, wholeNumber)
    .action(async (views, options) => answer(await showCommand(views, options, surroundings)));

const recordVerb: Verb = (command, surroundings, answer) =>
  void command
    .argument('<file>', say`JSON: one entry, or a list of them`)
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .option('--by <initials>', say`who records, where an entry does not say who`)
    .option('--date <day>', say`the day it happened, where an entry does not say (default: today)`)
    .option('--json', say`print JSON`, false)
    .action(async (file, options) => answer(await recordCommand(file, options, surroundings)));

const briefVerb: Verb = (command, surroundings, answer) =>
  void command
    .addArgument(new Argument('[act]', say`what to do`).choices(BRIEF_ACTS).default('list'))
    .argument(
      '[which]',
      say`the number of an issued brief, or the first letters of an id (default: the last issued one)`,
    )
    .option('--aircraft <name>', say`the aircraft; may be left out where there is only one`)
    .option('--as-known-at <entry>', say`make: as known at that entry (default: the last one)`, wholeNumber)
    .option(
      '--since <entry>',
      say`make: what came since that entry (default: where the last issued brief ends)`,
      entryOrZero,
    )
    .option('--remark <words>', say`make: a remark on it`)
    .option('--issue', say`make: issue it at once`, false)
    .option('--pdf <file>', say`write it as PDF, for printing`)
    .addOption(new Option('--paper <size>', say`what the PDF is laid out for`).choices(PAPERS).default('a4'))
    .option('--xlsx <file>', say`write it as a workbook, a sheet for each subject`)
    .option('--csv <file>', say`write it as CSV, its tables below one another`)
    .option('--by <initials>', say`who makes, issues or drops it`)
    .option('--json', say`print JSON`, false)
    .action(async (act: BriefVerb, which: string | undefined, options: BriefOptions) =>
      answer(await briefCommand(act, which, options, surroundings)),
    );

function withPlace(command: Command): Command {
  return command
    .option('--data <folder>', say`data folder of the embedded database (default: ${DEFAULT_FOLDER}, or DATABASE_URL)`)
    .option('--memory', say`keep nothing: work on an empty store in memory`, false);
}

function withViews(command: Command): Command {
  return command
    .option('--json', say`print JSON`, false)
    .option('--show <views>', say`what to print, separated by commas: ${VIEWS.join(', ')}`)
    .addOption(new Option('--order <by>', say`order of the drift list`).choices(DRIFT_ORDERS).default('margin'))
    .option('--last <count>', say`print only the last entries`, wholeNumber)
    .addOption(new Option('--split-by <what>', say`by what differences are split (view split)`).choices(SPLITS))
    .addOption(afterEntry('--from-entry <entry>', say`view bridge: what came after that entry`).conflicts(DAYS))
    .addOption(afterEntry('--to-entry <entry>', say`view bridge: up to and with that entry`).conflicts(DAYS))
    .option('--from-day <day>', say`view bridge: what happened after that day`, calendarDay)
    .option('--to-day <day>', say`view bridge: up to and with that day`, calendarDay)
    .option('--fail-on-drift', say`exit with 1 where a part drifts`, false);
}

const DAYS = ['fromDay', 'toDay'];

function afterEntry(flags: string, words: string): Option {
  return new Option(flags, words).argParser(wholeNumber);
}

function calendarDay(text: string): string {
  if (!z.iso.date().safeParse(text).success) throw new InvalidArgumentError(say`Write the day as 2026-05-31.`);
  return text;
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1) throw new InvalidArgumentError(say`Give a whole number from 1.`);
  return number;
}

/** 0 is the beginning. */
function entryOrZero(text: string): number {
  return text.trim() === '0' ? 0 : wholeNumber(text);
}

function pair(text: string, before: Readonly<Record<string, string>>): Record<string, string> {
  const at = text.indexOf('=');
  if (at < 1 || at === text.length - 1)
    throw new InvalidArgumentError(say`Give two words with an equals sign between them.`);
  return { ...before, [text.slice(0, at).trim()]: text.slice(at + 1).trim() };
}
