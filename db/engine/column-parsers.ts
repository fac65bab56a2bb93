/** How column values of both engines are read, on top of node-postgres's own parsers. */
import pg from 'pg';

const dateTypeId = 1082;

/** A `date` stays the text `YYYY-MM-DD`: read as a point in time it would shift by a day with the server's time zone. */
export const columnParsers = {
  getTypeParser(typeId: number, format?: 'text' | 'binary') {
    if (typeId === dateTypeId) return (value: string) => value;
    return format === 'binary' ? pg.types.getTypeParser(typeId, 'binary') : pg.types.getTypeParser(typeId, 'text');
  },
};
