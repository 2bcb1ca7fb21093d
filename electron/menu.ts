import type { MenuItemConstructorOptions } from 'electron';

export interface MenuActions {
  newBook(): void;
  openBook(): void;
  backUp(): void;
  showBook(): void;
  print(): void;
}

/** The menu: the platform's own roles where there is one, and what concerns the book file. */
export function menuTemplate(
  actions: MenuActions,
  options: { mac: boolean; developerTools: boolean },
): MenuItemConstructorOptions[] {
  const template: MenuItemConstructorOptions[] = [
    {
      label: '&Book',
      submenu: [
        { label: '&New book…', accelerator: 'CmdOrCtrl+Shift+N', click: actions.newBook },
        { label: '&Open book…', accelerator: 'CmdOrCtrl+O', click: actions.openBook },
        { type: 'separator' },
        { label: '&Back up now', accelerator: 'CmdOrCtrl+Shift+B', click: actions.backUp },
        { label: '&Show book in its folder', click: actions.showBook },
        { type: 'separator' },
        { label: '&Print…', accelerator: 'CmdOrCtrl+P', click: actions.print },
        { type: 'separator' },
        options.mac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    { role: 'editMenu' },
    {
      label: '&View',
      submenu: [
        { role: 'reload' },
        { type: 'separator' },
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
        ...(options.developerTools ? [{ role: 'toggleDevTools' } satisfies MenuItemConstructorOptions] : []),
      ],
    },
    { role: 'windowMenu' },
  ];
  return options.mac ? [{ role: 'appMenu' }, ...template] : template;
}
