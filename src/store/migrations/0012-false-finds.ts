/** What false finds each setting gives on a study's own control photographs. */
export const sql = `
create table false_finds (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  photos uuid[] not null,
  result jsonb not null,
  by uuid not null references person,
  at timestamptz not null
);
create index false_finds_by_study on false_finds (study, turn desc);
create trigger only_added before update or delete on false_finds for each row execute function refuse_change();
`;
