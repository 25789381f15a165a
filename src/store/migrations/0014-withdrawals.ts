/**
 * Runs, portions and procedures that are withdrawn and put back; each word is a further row, the latest of a subject
 * stands. `withdrawn_run` is the runs that do not count: those withdrawn themselves, and those of a portion that was.
 */
export const sql = `
create table withdrawal_word (
  id uuid primary key,
  turn bigint generated always as identity unique,
  study uuid not null references study,
  what text not null check (what in ('run', 'portion', 'procedure')),
  subject uuid not null,
  withdrawn boolean not null,
  why text not null check (why <> ''),
  count_open boolean not null,
  by uuid not null references person,
  at timestamptz not null
);
create index withdrawal_word_by_study on withdrawal_word (study, turn);
create index withdrawal_word_by_subject on withdrawal_word (subject, turn desc);
create trigger only_added before update or delete on withdrawal_word for each row execute function refuse_change();
create view withdrawn_now as
  select latest.subject from (
    select distinct on (w.subject) w.subject, w.withdrawn from withdrawal_word w order by w.subject, w.turn desc
  ) latest where latest.withdrawn;
create view withdrawn_run as
  select r.id from run r where r.id in (select n.subject from withdrawn_now n)
  union
  select r.id from run r where r.portion in (select n.subject from withdrawn_now n);
`;
