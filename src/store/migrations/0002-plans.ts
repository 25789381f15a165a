/** Kinds of step that a laboratory declares, plans of studies, and a study's own rules of comparison. All append. */
export const sql = `
create table step_kind (
  kind text primary key,
  says text not null,
  quantities jsonb not null,
  touches jsonb not null,
  brings jsonb not null,
  makes jsonb not null,
  at timestamptz not null,
  by uuid not null references person
);

create table plan (
  turn bigint generated always as identity primary key,
  id uuid not null unique,
  study uuid not null references study,
  answers jsonb not null,
  runs jsonb not null,
  at timestamptz not null,
  by uuid not null references person
);
create index plan_by_study on plan (study, turn);

create table comparison_rules (
  turn bigint generated always as identity primary key,
  id uuid not null unique,
  study uuid not null references study,
  tolerances jsonb not null,
  alike jsonb not null,
  because text not null,
  at timestamptz not null,
  by uuid not null references person
);
create index comparison_rules_by_study on comparison_rules (study, turn);
`;
