/** One step of the layout. `version` counts up by one; the file's `user_version` is that of the last step taken. */
export type Migration = { readonly version: number; readonly sql: string };
