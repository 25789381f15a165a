/** Published values that a study is held against. Each change is a further edition; the newest of its entry stands. */
export const sql = `
create table published_value (
  id uuid primary key,
  turn bigint generated always as identity unique,
  entry uuid not null,
  study uuid not null references study,
  specimen uuid not null references specimen,
  stands boolean not null,
  source text not null,
  per_gram double precision not null check (per_gram >= 0),
  spread jsonb not null,
  size_from_um double precision check (size_from_um > 0),
  size_to_um double precision check (size_to_um > size_from_um),
  bands jsonb not null,
  answers jsonb not null,
  note text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index published_value_by_study on published_value (study);
`;
