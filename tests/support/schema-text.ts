/** The schema of a database as stable text, from the catalogs: what the committed snapshot holds and both engines must equal. */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';

/** Kysely's own two tables are left out: they belong to the migrator. */
const ours = `n.nspname = 'public' and c.relname not like 'kysely_%'`;
const grantee = `case when a.grantee = 0 then 'public' when a.grantee = a.grantor then 'owner' else a.grantee::regrole::text end`;

/** One line of text per row, in this order. What the owner itself may do is left out: it differs between versions. */
const queries = {
  columns: `select format('%s.%s %s%s%s%s', c.relname, f.attname, format_type(f.atttypid, f.atttypmod),
      case when f.attcollation <> 0 then format(' collate %I', l.collname) end,
      case when f.attnotnull then ' not null' end,
      ' default ' || pg_get_expr(d.adbin, d.adrelid)) as line
    from pg_class c join pg_namespace n on n.oid = c.relnamespace join pg_attribute f on f.attrelid = c.oid
      left join pg_attrdef d on d.adrelid = c.oid and d.adnum = f.attnum left join pg_collation l on l.oid = f.attcollation
    where ${ours} and c.relkind = 'r' and f.attnum > 0 and not f.attisdropped order by c.relname, f.attnum`,
  // 'n': PostgreSQL 18 lists "not null" as constraints as well; the columns say it already.
  constraints: `select format('%s %s %s', c.relname, k.conname, pg_get_constraintdef(k.oid)) as line
    from pg_constraint k join pg_class c on c.oid = k.conrelid join pg_namespace n on n.oid = c.relnamespace
    where ${ours} and k.contype <> 'n' order by c.relname, k.conname`,
  indexes: `select pg_get_indexdef(i.indexrelid) as line
    from pg_index i join pg_class c on c.oid = i.indrelid join pg_namespace n on n.oid = c.relnamespace
    where ${ours} order by i.indexrelid::regclass::text collate "C"`,
  // tgenabled 'A' is ENABLE ALWAYS.
  triggers: `select format('%s [%s]', pg_get_triggerdef(t.oid), t.tgenabled) as line
    from pg_trigger t join pg_class c on c.oid = t.tgrelid join pg_namespace n on n.oid = c.relnamespace
    where ${ours} and not t.tgisinternal order by c.relname, t.tgname`,
  functions: `select format('%s(%s) returns %s%s %s [body %s]', p.proname, pg_get_function_arguments(p.oid),
      pg_get_function_result(p.oid), case when p.prosecdef then ' security definer' end, p.proconfig::text, md5(p.prosrc)) as line
    from pg_proc p join pg_namespace n on n.oid = p.pronamespace where n.nspname = 'public' order by p.proname`,
  grants: `select line from (
      select format('%s %s to %s', c.relname, a.privilege_type, ${grantee}) as line
        from pg_class c join pg_namespace n on n.oid = c.relnamespace, aclexplode(c.relacl) a
        where ${ours} and c.relkind = 'r'
      union all
      select format('%s.%s %s to %s', c.relname, f.attname, a.privilege_type, ${grantee})
        from pg_class c join pg_namespace n on n.oid = c.relnamespace join pg_attribute f on f.attrelid = c.oid,
          aclexplode(f.attacl) a
        where ${ours}
      union all
      select format('%s() %s to %s', p.proname, a.privilege_type, ${grantee})
        from pg_proc p join pg_namespace n on n.oid = p.pronamespace, aclexplode(p.proacl) a where n.nspname = 'public'
    ) every where line not like '% to owner' order by line collate "C"`,
};

export async function schemaText(db: Kysely<Database>): Promise<string> {
  let text = '';
  for (const [heading, query] of Object.entries(queries)) {
    const found = await sql.raw<{ line: string }>(query).execute(db);
    text += `# ${heading}\n${found.rows.map((row) => `${row.line}\n`).join('')}\n`;
  }
  return text;
}
