/** The day on this device, YYYY-MM-DD. It is shown and compared with, and sent only with a weighing that has waited: the shop's own day is the server's to know. */
export function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}
