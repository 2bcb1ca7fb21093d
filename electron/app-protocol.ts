import type { CustomScheme, Protocol } from 'electron';
import { APP_SCHEME } from './bridge.ts';
import { isAppAddress } from './ipc.ts';
import { readStatic, securityHeaders } from './static-files.ts';

/** What the scheme may do: behave like https for its own pages. It must be registered before Electron is ready. */
export const APP_SCHEME_RIGHTS: CustomScheme = {
  scheme: APP_SCHEME,
  privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true },
};

/** Serves the built renderer at app://valvebook/ and refuses everything else. */
export function serveApp(protocol: Pick<Protocol, 'handle'>, rendererDir: string): void {
  protocol.handle(APP_SCHEME, async (request) => {
    if (request.method !== 'GET' || !isAppAddress(request.url)) return refusal(403);
    // The address as it was asked for: URL parsing would quietly resolve an encoded way out.
    const file = await readStatic(rendererDir, new URL(request.url).pathname);
    if (file === undefined) return refusal(404);
    return new Response(new Uint8Array(file.body), { status: 200, headers: file.headers });
  });
}

function refusal(status: number): Response {
  return new Response('There is nothing at this address.\n', {
    status,
    headers: { ...securityHeaders('none'), 'content-type': 'text/plain; charset=utf-8' },
  });
}
