-- What a device may do and see. role leaves room for people with other tasks; job, where given, is the
-- only job that the device may see. seen_ms is when it last spoke, to the hour.
alter table device add column role text not null default 'inspector';
alter table device add column job text;
alter table device add column seen_ms integer;

-- The only job that a device paired with this code may see.
alter table pairing_code add column job text;
