/** How overlapping photographs of a filter lie towards each other, and which of several sightings of a piece counts. */
export const sql = `
create table joining (
  id uuid primary key,
  turn bigint generated always as identity unique,
  filter uuid not null references filter,
  apart boolean not null,
  findings uuid[] not null,
  links jsonb not null,
  placed uuid[] not null,
  once double precision not null check (once > 0 and once <= 1),
  by uuid references person,
  at timestamptz not null
);
create index joining_by_filter on joining (filter, turn desc);
create trigger only_added before update or delete on joining for each row execute function refuse_change();

alter table particle add column counts_on uuid;
`;
