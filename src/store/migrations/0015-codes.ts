/**
 * One-time codes: an invitation may name whose records the account gets, may be taken back, and a code may instead let
 * somebody who has an account set a new password.
 */
export const sql = `
alter table invitation add column id uuid not null default gen_random_uuid();
alter table invitation add column purpose text not null default 'join' check (purpose in ('join', 'password'));
alter table invitation add column person uuid references person;
alter table invitation add column taken_back_by uuid references person;
alter table invitation add column taken_back_at timestamptz;
alter table invitation add check (purpose = 'join' or person is not null);
create unique index invitation_by_id on invitation (id);
`;
