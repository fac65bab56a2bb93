/** The five-character SQLSTATE of an error that a database driver threw, or an empty text for any other error. */
export function sqlState(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}
