// Books hold gate codes, names and phone numbers: what Valvebook makes belongs to its user alone, whatever that user's own
// habit (umask) is. Windows knows no such modes; there the user's own profile keeps others out by its access list.

/** Mode of every file Valvebook makes. */
export const OWNER_ONLY_FILE = 0o600;
/** Mode of every folder Valvebook makes. */
export const OWNER_ONLY_FOLDER = 0o700;
