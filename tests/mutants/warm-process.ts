import path from 'node:path';
import { createVitest, type Reporter } from 'vitest/node';
import type { Asked, Told } from './warm.ts';

// A process that keeps Vitest and every transformed file in memory and runs, mutant after mutant, the tests it is told to,
// each time in a fresh child.

const root = process.argv[2]!;
let told: Told = { failed: [] };
const listener: Reporter = {
  onTestRunEnd(modules, errors, reason) {
    const failed = errors.map(({ message }) => ({ file: '', test: '', why: message }));
    for (const module of modules) {
      const file = path.relative(root, module.moduleId).split(path.sep).join('/');
      for (const { message } of module.errors()) failed.push({ file, test: '', why: message });
      for (const test of module.children.allTests('failed'))
        failed.push({
          file,
          test: test.fullName,
          why: (test.result().errors ?? []).map(({ message }) => message).join(' '),
        });
    }
    if (failed.length === 0 && reason === 'failed') failed.push({ file: '', test: '', why: reason });
    told = { failed };
  },
};
class AsTold {
  shard<T>(files: T): T {
    return files;
  }
  sort<T>(files: T): T {
    return files;
  }
}
const vitest = await createVitest('test', {
  root,
  watch: false,
  isolate: false,
  maxWorkers: 1,
  testTimeout: 60_000,
  setupFiles: ['tests/setup.ts', 'tests/mutants/setup.ts'],
  reporters: [listener],
  sequence: { sequencer: AsTold as never },
});
const project = vitest.getRootProject();

process.on('message', ({ mutant, tests, bail, seenFolder }: Asked) => {
  process.env['VALVEBOOK_MUTANT'] = String(mutant);
  // Inputs drawn at random would give another verdict each time.
  process.env['CI'] = 'true';
  if (seenFolder === undefined) delete process.env['VALVEBOOK_MUTANTS_SEEN'];
  else process.env['VALVEBOOK_MUTANTS_SEEN'] = seenFolder;
  project.config.bail = vitest.config.bail = bail ? 1 : 0;
  const specifications = tests.map(({ file, names }) =>
    project.createSpecification(path.join(root, file), names === undefined ? undefined : { testNames: names }),
  );
  void vitest.runTestSpecifications(specifications).then(
    () => process.send!(told),
    (cause: unknown) => process.send!({ failed: [{ file: '', test: '', why: String(cause) }] } satisfies Told),
  );
});
process.on('disconnect', () => void vitest.close().finally(() => process.exit()));
process.send!('ready');
