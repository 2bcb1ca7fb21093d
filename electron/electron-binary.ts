import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

/** Electron's program on this machine, or undefined. Looks only: importing the package would start a download. */
export function findElectron(): string | undefined {
  let folder: string;
  try {
    folder = path.dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return undefined;
  }
  const pathFile = path.join(folder, 'path.txt');
  const program = existsSync(pathFile) ? readFileSync(pathFile, 'utf8').trim() : defaultProgram();
  const file = path.join(process.env.ELECTRON_OVERRIDE_DIST_PATH ?? path.join(folder, 'dist'), program);
  return existsSync(file) ? file : undefined;
}

function defaultProgram(): string {
  if (process.platform === 'darwin') return 'Electron.app/Contents/MacOS/Electron';
  return process.platform === 'win32' ? 'electron.exe' : 'electron';
}

/** Whether a window can be shown at all. */
export function hasDisplay(): boolean {
  if (process.platform !== 'linux') return process.env.SSH_CONNECTION === undefined || process.platform === 'win32';
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}
