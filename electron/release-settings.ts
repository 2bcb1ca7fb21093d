import type { Configuration } from 'electron-builder';
import { BookError } from '../core/errors.ts';

// What signs an installer comes from the environment of the machine that builds it and is in no file of the project.

type Environment = Readonly<Record<string, string | undefined>>;

/** Azure's signing service: where, whose account, which profile, and the publisher as the certificate names it. */
const AZURE = {
  endpoint: 'VALVEBOOK_AZURE_SIGN_ENDPOINT',
  codeSigningAccountName: 'VALVEBOOK_AZURE_SIGN_ACCOUNT',
  certificateProfileName: 'VALVEBOOK_AZURE_SIGN_PROFILE',
  publisherName: 'VALVEBOOK_AZURE_SIGN_PUBLISHER',
} as const;

/** The three ways to say to Apple who asks for notarization; each is whole or it is none. */
const NOTARIZATION = [
  ['APPLE_API_KEY', 'APPLE_API_KEY_ID', 'APPLE_API_ISSUER'],
  ['APPLE_ID', 'APPLE_APP_SPECIFIC_PASSWORD', 'APPLE_TEAM_ID'],
  ['APPLE_KEYCHAIN_PROFILE'],
] as const;

/**
 * What is laid over electron-builder.yml: signing where the environment names it. With VALVEBOOK_RELEASE=1 an installer
 * that could not be signed (on macOS: and notarized) is not built at all.
 * @throws BookError 'bad-input' naming what is missing, before anything is built
 */
export function releaseSettings(env: Environment, platform: NodeJS.Platform): Configuration {
  const release = env.VALVEBOOK_RELEASE === '1';
  const has = (name: string) => (env[name] ?? '').trim() !== '';
  if (platform === 'win32') {
    const azure = azureSigning(env, has);
    if (release && azure === undefined && !has('WIN_CSC_LINK') && !has('CSC_LINK'))
      refuse(
        `a certificate (WIN_CSC_LINK and WIN_CSC_KEY_PASSWORD) or Azure signing (${Object.values(AZURE).join(', ')})`,
      );
    return { forceCodeSigning: release, ...(azure === undefined ? {} : { win: { azureSignOptions: azure } }) };
  }
  if (platform === 'darwin') {
    const notarize = notarization(has);
    if (release && !has('CSC_LINK') && !has('CSC_NAME'))
      refuse('a certificate (CSC_LINK and CSC_KEY_PASSWORD, or CSC_NAME in the keychain)');
    if (release && !notarize) refuse(`notarization (${NOTARIZATION.map((names) => names.join(', ')).join('; or ')})`);
    return { forceCodeSigning: release, mac: { notarize } };
  }
  // AppImage and deb carry no signature of their own: the list of checksums is signed (DEVELOPERS.md).
  return {};
}

function azureSigning(env: Environment, has: (name: string) => boolean) {
  const missing = Object.values(AZURE).filter((name) => !has(name));
  if (missing.length === Object.keys(AZURE).length) return undefined;
  if (missing.length > 0) refuse(`the rest of Azure signing (${missing.join(', ')})`);
  return {
    endpoint: env[AZURE.endpoint]!,
    codeSigningAccountName: env[AZURE.codeSigningAccountName]!,
    certificateProfileName: env[AZURE.certificateProfileName]!,
    publisherName: env[AZURE.publisherName]!,
  };
}

function notarization(has: (name: string) => boolean): boolean {
  for (const names of NOTARIZATION) {
    const missing = names.filter((name) => !has(name));
    if (missing.length === 0) return true;
    if (missing.length < names.length) refuse(`the rest of notarization (${missing.join(', ')})`);
  }
  return false;
}

function refuse(what: string): never {
  throw new BookError(
    'bad-input',
    `Nothing was built: ${what} is missing from the environment. Set it, or build without VALVEBOOK_RELEASE for an installer that is not signed.`,
    'environment',
  );
}
