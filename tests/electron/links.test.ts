import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { isContactLink, mailLink, phoneLink } from '../../core/contract/contact-links.ts';
import { outsideDoor } from '../../electron/outside-links.ts';
import { makeShell, type Shell } from './run-shell.ts';

describe('what a page may lead to', () => {
  it('makes numbers to call (RFC 3966) of what offices type', () => {
    expect(phoneLink('(555) 010-0142')).toBe('tel:5550100142');
    expect(phoneLink('+1 555 010 0142')).toBe('tel:+15550100142');
    expect(phoneLink('555.010.0142 ext. 7')).toBe('tel:5550100142;ext=7');
    expect(phoneLink('555-010-0142 x12')).toBe('tel:5550100142;ext=12');
    for (const none of ['', 'ask at the gate', '12', '5'.repeat(40)]) expect(phoneLink(none), none).toBeNull();
  });

  it('makes addresses to write to (RFC 6068) of single addresses, and of nothing that smuggles more', () => {
    expect(mailLink(' office@example.com ')).toBe('mailto:office@example.com');
    expect(mailLink('jürgen@example.com')).toBe('mailto:j%C3%BCrgen@example.com');
    for (const none of [
      '',
      'nobody',
      'a@example.com,b@example.com',
      'a@example.com?bcc=b@example.com',
      'a@example.com\r\nBcc: b@example.com',
      'a%0d%0aBcc:b@example.com',
      '"a b"@example.com',
      'a@example.com" --attach="/etc/passwd',
      '\ud800@example.com',
    ])
      expect(mailLink(none), none).toBeNull();
  });

  it('knows no other scheme, no control character, no endless address', () => {
    for (const address of [
      'https://example.com/',
      'http://127.0.0.1/',
      'file:///etc/passwd',
      'javascript:alert(1)',
      'data:text/html,x',
      'smb://example.com/share',
      'search-ms:query=x',
      'MAILTO:a@example.com',
      'mailto:a@example.com\n',
      'mailto:a@example.com%0a',
      'mailto:a%20b@example.com',
      'mailto:a@example.com?attach=/etc/passwd',
      'mailto:',
      'tel:',
      'tel:555\u0000',
      'tel:5550100142;phone-context=example.com',
      ' tel:5550100142',
      `mailto:${'a'.repeat(500)}@example.com`,
      null,
      7,
      undefined,
    ])
      expect(isContactLink(address), String(address)).toBe(false);
  });
});

describe('in the window', () => {
  let shell: Shell;
  beforeEach(async () => {
    shell = makeShell();
    await shell.start();
  });
  afterEach(() => shell.end());
  const opened = () => shell.standIn.record.openedOutside;

  it('a click on a number or an address opens the system’s program once, and the page stays', () => {
    for (const [url, name] of [
      ['tel:5550100142', 'will-navigate'],
      ['mailto:office@example.com', 'will-frame-navigate'],
    ] as const) {
      const preventDefault = vi.fn();
      shell.contents().emit(name, { url, isMainFrame: true, preventDefault });
      expect(preventDefault).toHaveBeenCalledOnce();
    }
    expect(opened()).toEqual(['tel:5550100142', 'mailto:office@example.com']);
    // Both events of one click.
    shell.contents().emit('will-navigate', { url: 'mailto:office@example.com', preventDefault: vi.fn() });
    expect(opened()).toHaveLength(2);
    expect(shell.contents().openHandler?.({ url: 'tel:+15550100199' } as Electron.HandlerDetails)).toEqual({
      action: 'deny',
    });
    expect(opened().at(-1)).toBe('tel:+15550100199');
  });

  it('the question for leave to open a program is answered no, and opened by our own list', () => {
    const answers: boolean[] = [];
    const ask = (permission: string, details: object) =>
      shell.standIn.record.permissionRequest?.(
        shell.contents(),
        permission as never,
        (granted) => answers.push(granted),
        details as never,
      );
    ask('openExternal', { externalURL: 'tel:5550100142', isMainFrame: true });
    ask('openExternal', { externalURL: 'https://example.com/', isMainFrame: true });
    ask('openExternal', { externalURL: 'tel:5550100143', isMainFrame: false });
    ask('media', { externalURL: 'tel:5550100144', isMainFrame: true });
    expect(answers).toEqual([false, false, false, false]);
    expect(opened()).toEqual(['tel:5550100142']);
  });

  it('opens nothing else, by whatever way it comes', () => {
    for (const url of ['https://example.com/', 'file:///etc/passwd', 'mailto:a@example.com%0aBcc:b@example.com']) {
      for (const name of ['will-navigate', 'will-frame-navigate', 'will-redirect'])
        shell.contents().emit(name, { url, isMainFrame: true, preventDefault: vi.fn() });
      shell.contents().openHandler?.({ url } as Electron.HandlerDetails);
    }
    // A frame inside the page and a redirect are no click of the user's.
    shell
      .contents()
      .emit('will-frame-navigate', { url: 'tel:5550100142', isMainFrame: false, preventDefault: vi.fn() });
    shell.contents().emit('will-redirect', { url: 'tel:5550100142', preventDefault: vi.fn() });
    expect(opened()).toEqual([]);
  });

  it('says it where the machine has no program for it', async () => {
    shell.standIn.record.outsideFails = true;
    shell.contents().emit('will-navigate', { url: 'tel:5550100142', preventDefault: vi.fn() });
    await vi.waitFor(() => expect(shell.standIn.record.errorBoxes).toHaveLength(1));
    expect(shell.standIn.record.errorBoxes[0]).toMatch(/no program that calls a phone number/);
  });
});

it('the same address is opened again after a second', () => {
  let now = 0;
  const opened: string[] = [];
  const open = outsideDoor(
    async (address) => void opened.push(address),
    () => undefined,
    () => now,
  );
  open('tel:5550100142');
  now = 999;
  open('tel:5550100142');
  expect(opened).toHaveLength(1);
  now = 1000;
  open('tel:5550100142');
  expect(opened).toHaveLength(2);
});
