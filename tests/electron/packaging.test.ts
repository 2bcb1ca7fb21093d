import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Configuration } from 'electron-builder';
import { releaseSettings } from '../../electron/release-settings.ts';

// The packaged build's settings, held against electron-builder's own schema.

const root = path.resolve(import.meta.dirname, '../..');
// What electron-builder is made of is found from where electron-builder is.
const fromBuilder = createRequire(createRequire(import.meta.url).resolve('electron-builder/package.json'));
const { load } = fromBuilder('js-yaml') as { load(text: string): unknown };
let configuration: Configuration;
const AZURE = {
  VALVEBOOK_AZURE_SIGN_ENDPOINT: 'https://signing.example.com/',
  VALVEBOOK_AZURE_SIGN_ACCOUNT: 'account',
  VALVEBOOK_AZURE_SIGN_PROFILE: 'profile',
  VALVEBOOK_AZURE_SIGN_PUBLISHER: 'CN=Example',
};

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

  it('with every signing the environment can name laid over it, is valid too', async () => {
    const { validateConfiguration, doMergeConfigs } = fromBuilder('app-builder-lib/out/util/config/config.js') as {
      validateConfiguration(config: unknown, debugLogger: { isEnabled: boolean; add(): void }): Promise<void>;
      doMergeConfigs(configs: Configuration[]): Configuration;
    };
    const logger = { isEnabled: false, add: () => undefined };
    for (const [platform, env] of [
      ['win32', AZURE],
      ['win32', { WIN_CSC_LINK: 'x', VALVEBOOK_RELEASE: '1' }],
      ['darwin', { CSC_NAME: 'x', APPLE_KEYCHAIN_PROFILE: 'x', VALVEBOOK_RELEASE: '1' }],
      ['linux', { VALVEBOOK_RELEASE: '1' }],
    ] as const) {
      const merged = doMergeConfigs([releaseSettings(env, platform), structuredClone(configuration)]);
      await expect(validateConfiguration(merged, logger), platform).resolves.toBeUndefined();
      // Laid over and not in place of it.
      expect(merged.mac).toMatchObject({ hardenedRuntime: true });
      expect(merged.win).toMatchObject({ signtoolOptions: { signingHashAlgorithms: ['sha256'] } });
    }
  });

  it('opens a double-clicked book on all three systems', () => {
    // Without a MIME type Linux would know nothing of it.
    expect(configuration.fileAssociations).toEqual([
      {
        ext: 'valvebook',
        name: 'Valvebook book',
        description: 'Valvebook book',
        mimeType: 'application/x-valvebook',
        role: 'Editor',
        rank: 'Owner',
      },
    ]);
  });

  it('is ready to be signed and notarized: hardened, with one right and no more', () => {
    expect(configuration.mac).toMatchObject({
      hardenedRuntime: true,
      entitlements: 'assets/entitlements.mac.plist',
      entitlementsInherit: 'assets/entitlements.mac.plist',
    });
    const rights = readFileSync(path.join(root, 'assets/entitlements.mac.plist'), 'utf8');
    expect([...rights.matchAll(/<key>(.*?)<\/key>\s*<(true|false)\/>/g)].map(([, key, value]) => [key, value])).toEqual(
      [['com.apple.security.cs.allow-jit', 'true']],
    );
    expect(rights.match(/<key>/g)).toHaveLength(1);
  });

  it('holds no secret, and runs no update channel', () => {
    const text = readFileSync(path.join(root, 'electron-builder.yml'), 'utf8');
    expect(text).not.toMatch(/password|certificateFile|certificateSubjectName|identity:|teamId|token/i);
    expect(configuration.publish).toBeNull();
    const { dependencies, devDependencies } = JSON.parse(
      readFileSync(path.join(root, 'package.json'), 'utf8'),
    ) as Record<string, Record<string, string>>;
    expect(Object.keys({ ...dependencies, ...devDependencies }).filter((name) => name.includes('updat'))).toEqual([]);
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

describe('signing by the environment', () => {
  it('is left out where the environment names none: an unsigned installer for trying out', () => {
    expect(releaseSettings({}, 'win32')).toEqual({ forceCodeSigning: false });
    expect(releaseSettings({}, 'darwin')).toEqual({ forceCodeSigning: false, mac: { notarize: false } });
    expect(releaseSettings({}, 'linux')).toEqual({});
  });

  it('is what the environment names', () => {
    expect(releaseSettings(AZURE, 'win32')).toEqual({
      forceCodeSigning: false,
      win: {
        azureSignOptions: {
          endpoint: 'https://signing.example.com/',
          codeSigningAccountName: 'account',
          certificateProfileName: 'profile',
          publisherName: 'CN=Example',
        },
      },
    });
    for (const names of [
      ['APPLE_API_KEY', 'APPLE_API_KEY_ID', 'APPLE_API_ISSUER'],
      ['APPLE_ID', 'APPLE_APP_SPECIFIC_PASSWORD', 'APPLE_TEAM_ID'],
      ['APPLE_KEYCHAIN_PROFILE'],
    ])
      expect(releaseSettings(Object.fromEntries(names.map((name) => [name, 'x'])), 'darwin')).toEqual({
        forceCodeSigning: false,
        mac: { notarize: true },
      });
  });

  it('is never done by halves: what is missing is named before anything is built', () => {
    const { VALVEBOOK_AZURE_SIGN_PROFILE: _left, ...most } = AZURE;
    expect(() => releaseSettings(most, 'win32')).toThrow(/\(VALVEBOOK_AZURE_SIGN_PROFILE\)/);
    expect(() => releaseSettings({ APPLE_API_KEY: 'x', APPLE_API_ISSUER: ' ' }, 'darwin')).toThrow(
      /\(APPLE_API_KEY_ID, APPLE_API_ISSUER\)/,
    );
    const release = { VALVEBOOK_RELEASE: '1' };
    expect(() => releaseSettings(release, 'win32')).toThrow(/WIN_CSC_LINK/);
    expect(() => releaseSettings(release, 'darwin')).toThrow(/CSC_LINK/);
    expect(() => releaseSettings({ ...release, CSC_LINK: 'x' }, 'darwin')).toThrow(/notarization \(APPLE_API_KEY/);
    expect(releaseSettings({ ...release, CSC_LINK: 'x' }, 'win32')).toEqual({ forceCodeSigning: true });
    expect(releaseSettings({ ...release, CSC_LINK: 'x', APPLE_KEYCHAIN_PROFILE: 'x' }, 'darwin')).toEqual({
      forceCodeSigning: true,
      mac: { notarize: true },
    });
  });
});
