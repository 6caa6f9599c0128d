/** Why the journal cannot be opened or copied. `because` is the system's own short word (`EACCES`, `disk image is malformed`). */
export type JournalFault =
  | { readonly code: 'folder-not-writable'; readonly folder: string; readonly because: string }
  | { readonly code: 'already-in-use'; readonly folder: string; readonly processId?: number }
  | { readonly code: 'newer-version'; readonly path: string; readonly found: number; readonly known: number }
  | { readonly code: 'corrupt'; readonly path: string; readonly because: string };

/** What is wrong with the journal and what to do about it, in English. */
export const journalSentence = (fault: JournalFault): string => {
  switch (fault.code) {
    case 'folder-not-writable':
      return `The folder ${fault.folder} cannot be written (${fault.because}): choose another with NIGHTWATER_DATA, or mend its permissions.`;
    case 'already-in-use':
      return `The folder ${fault.folder} is in use by ${holder(fault.processId)}: stop that one first, or choose another folder with NIGHTWATER_DATA.`;
    case 'newer-version':
      return `The journal ${fault.path} was written by a newer Nightwater (its version is ${fault.found}, this program knows ${fault.known}): install that version again; nothing was changed.`;
    case 'corrupt':
      return `The journal ${fault.path} is damaged (${fault.because}): keep the file aside and restore the newest backup; nothing was changed.`;
  }
};

const holder = (processId: number | undefined): string =>
  processId === undefined ? 'another Nightwater process' : `another Nightwater process (number ${processId})`;
