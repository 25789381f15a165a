/** What was weighed of the product before a run and after it. Each change is a further row; the newest of its run stands. */
export const sql = `
create table weighing (
  id uuid primary key,
  turn bigint generated always as identity unique,
  run uuid not null references run,
  stands boolean not null,
  before_g double precision not null check (before_g > 0),
  after_g double precision not null check (after_g > 0),
  uncertainty_g double precision not null check (uncertainty_g > 0),
  note text not null,
  by uuid not null references person,
  at timestamptz not null
);
create index weighing_by_run on weighing (run, turn desc);
create trigger only_added before update or delete on weighing for each row execute function refuse_change();
`;
