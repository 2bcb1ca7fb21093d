// npm run package: the installer for the system it runs on. `--dir` leaves out the installer and keeps the folder it would install.
import { parseArgs } from 'node:util';
import { toFailure } from '../core/errors.ts';
import { ensureBuilt } from './build.ts';
import { projectRoot } from './places.ts';
import { releaseSettings } from './release-settings.ts';

const { values } = parseArgs({ options: { dir: { type: 'boolean', default: false } } });
try {
  // First, so that nothing is built only to be left unsigned.
  const config = releaseSettings(process.env, process.platform);
  await ensureBuilt({ shell: true, force: true, say: (text) => console.error(text) });
  const { build } = await import('electron-builder');
  const made = await build({ projectDir: projectRoot(), config, dir: values.dir, publish: 'never' });
  for (const file of made) console.log(file);
} catch (error) {
  const failure = toFailure(error);
  console.error(failure.code === 'internal' ? error : failure.message);
  process.exitCode = 1;
}
