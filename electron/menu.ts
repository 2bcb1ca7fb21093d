import type { MenuItemConstructorOptions } from 'electron';
import { say, type Reader } from '../core/text/say.ts';

export interface MenuActions {
  newBook(): void;
  openBook(): void;
  backUp(): void;
  showBook(): void;
  print(): void;
}

/** The menu: the platform's own roles where there is one, said by us (Electron names them in English), and what concerns the book file. */
export function menuTemplate(
  actions: MenuActions,
  { mac, developerTools, reader }: { mac: boolean; developerTools: boolean; reader: Reader },
): MenuItemConstructorOptions[] {
  const line: MenuItemConstructorOptions = { type: 'separator' };
  const close: MenuItemConstructorOptions = { role: 'close', label: say(reader, 'desktop.close') };
  const quit: MenuItemConstructorOptions = { role: 'quit', label: say(reader, 'desktop.quit') };
  const template: MenuItemConstructorOptions[] = [
    {
      label: say(reader, 'desktop.book'),
      submenu: [
        { label: say(reader, 'desktop.newBook'), accelerator: 'CmdOrCtrl+Shift+N', click: actions.newBook },
        { label: say(reader, 'desktop.openBook'), accelerator: 'CmdOrCtrl+O', click: actions.openBook },
        line,
        { label: say(reader, 'desktop.backUpNow'), accelerator: 'CmdOrCtrl+Shift+B', click: actions.backUp },
        { label: say(reader, 'desktop.showBook'), click: actions.showBook },
        line,
        { label: say(reader, 'desktop.print'), accelerator: 'CmdOrCtrl+P', click: actions.print },
        line,
        mac ? close : quit,
      ],
    },
    {
      role: 'editMenu',
      label: say(reader, 'desktop.edit'),
      submenu: [
        { role: 'undo', label: say(reader, 'desktop.undo') },
        { role: 'redo', label: say(reader, 'desktop.redo') },
        line,
        { role: 'cut', label: say(reader, 'desktop.cut') },
        { role: 'copy', label: say(reader, 'desktop.copy') },
        { role: 'paste', label: say(reader, 'desktop.paste') },
        line,
        { role: 'selectAll', label: say(reader, 'desktop.selectAll') },
      ],
    },
    {
      label: say(reader, 'desktop.view'),
      submenu: [
        { role: 'reload', label: say(reader, 'desktop.reload') },
        line,
        { role: 'resetZoom', label: say(reader, 'desktop.actualSize') },
        { role: 'zoomIn', label: say(reader, 'desktop.larger') },
        { role: 'zoomOut', label: say(reader, 'desktop.smaller') },
        line,
        { role: 'togglefullscreen', label: say(reader, 'desktop.fullScreen') },
        ...(developerTools
          ? [
              {
                role: 'toggleDevTools',
                label: say(reader, 'desktop.developerTools'),
              } satisfies MenuItemConstructorOptions,
            ]
          : []),
      ],
    },
    {
      role: 'windowMenu',
      label: say(reader, 'desktop.window'),
      submenu: [
        { role: 'minimize', label: say(reader, 'desktop.minimize') },
        { role: 'zoom', label: say(reader, 'desktop.zoom') },
        ...(mac ? [line, { role: 'front', label: say(reader, 'desktop.front') } as const] : [close]),
      ],
    },
  ];
  if (!mac) return template;
  const own: MenuItemConstructorOptions = {
    role: 'appMenu',
    submenu: [
      { role: 'about', label: say(reader, 'desktop.about') },
      line,
      { role: 'services', label: say(reader, 'desktop.services') },
      line,
      { role: 'hide', label: say(reader, 'desktop.hide') },
      { role: 'hideOthers', label: say(reader, 'desktop.hideOthers') },
      { role: 'unhide', label: say(reader, 'desktop.showAll') },
      line,
      quit,
    ],
  };
  return [own, ...template];
}
