import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Configuration } from 'electron-builder';

// The packaged build's settings, held against electron-builder's own schema.

const root = path.resolve(import.meta.dirname, '../..');
// What electron-builder is made of is found from where electron-builder is.
const fromBuilder = createRequire(createRequire(import.meta.url).resolve('electron-builder/package.json'));
const { load } = fromBuilder('js-yaml') as { load(text: string): unknown };
let configuration: Configuration;

beforeAll(() => {
  configuration = load(readFileSync(path.join(root, 'electron-builder.yml'), 'utf8')) as Configuration;
});

describe('electron-builder.yml', () => {
  it("is valid by electron-builder's own schema, and a misspelt key would not be", async () => {
    const { validateConfiguration } = fromBuilder('app-builder-lib/out/util/config/config.js') as {
      validateConfiguration(config: unknown, debugLogger: { isEnabled: boolean; add(): void }): Promise<void>;
    };
    const logger = { isEnabled: false, add: () => undefined };
    await expect(validateConfiguration(structuredClone(configuration), logger)).resolves.toBeUndefined();
    await expect(
      validateConfiguration({ ...structuredClone(configuration), electronFuzes: {} }, logger),
    ).rejects.toThrow(/electronFuzes/);
  });

  it('has the fuses that keep the packaged program to its own code', () => {
    expect(configuration.electronFuses).toEqual({
      runAsNode: false,
      enableCookieEncryption: true,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      loadBrowserProcessSpecificV8Snapshot: false,
      grantFileProtocolExtraPrivileges: false,
    });
  });

  it('packs for the three systems, with the native module outside the archive', () => {
    expect(
      [configuration.win, configuration.mac, configuration.linux].every(
        (target) => target !== null && target !== undefined,
      ),
    ).toBe(true);
    expect(configuration.asar).toBe(true);
    expect(configuration.asarUnpack).toContain('node_modules/better-sqlite3/**');
  });

  it('starts what the build writes', () => {
    const { main } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as { main: string };
    expect(main).toBe('dist/electron/main.js');
    expect(configuration.files).toContain('dist/electron/**');
    expect(existsSync(path.join(root, 'electron/main.ts'))).toBe(true);
  });
});
