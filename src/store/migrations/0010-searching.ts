/** How a study's photographs are searched, and marks that were carried over when one was searched anew. */
export const sql = `
create table search_settings (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  false_finds_per_blank double precision not null check (false_finds_per_blank > 0),
  smallest_um double precision check (smallest_um > 0),
  by uuid not null references person,
  at timestamptz not null
);
create index search_settings_by_study on search_settings (study, turn desc);
create trigger only_added before update or delete on search_settings for each row execute function refuse_change();

alter table mark add column carries uuid;
`;
