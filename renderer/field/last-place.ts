// Whose phone this is, kept on the device; the day only as long as the page is open, so that a new morning opens on today.

const KEY = 'valvebook.field.technician';
let lastDate: string | null = null;

/** The technician chosen last on this device and, within this session, the day. */
export function lastPlace(): { technicianId: string | null; date: string | null } {
  try {
    return { technicianId: localStorage.getItem(KEY), date: lastDate };
  } catch {
    return { technicianId: null, date: lastDate };
  }
}

/** Remembers whose day is on screen. */
export function rememberPlace(technicianId: string, date: string): void {
  lastDate = date;
  try {
    localStorage.setItem(KEY, technicianId);
  } catch {
    // Without storage it is asked again next time.
  }
}
