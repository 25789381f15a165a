/** How small a piece a study's own control photographs still show. */
export const sql = `
create table completeness (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  photos uuid[] not null,
  result jsonb not null,
  by uuid not null references person,
  at timestamptz not null
);
create index completeness_by_study on completeness (study, turn desc);
create trigger only_added before update or delete on completeness for each row execute function refuse_change();
`;
