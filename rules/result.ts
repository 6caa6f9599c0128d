/** What the world may refuse: a value, or a fault as a value. Exceptions are for our own bugs only. */
export type Result<T, F> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: F };

export const ok = <T>(value: T): { readonly ok: true; readonly value: T } => ({
  ok: true,
  value,
});

export const fault = <F>(what: F): { readonly ok: false; readonly fault: F } => ({ ok: false, fault: what });

/** Makes the compiler count the cases: adding one to a union breaks the build where it is not handled. */
export const never = (impossible: never): never => {
  throw new Error(`Unhandled case: ${JSON.stringify(impossible)}`);
};
