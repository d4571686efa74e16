/**
 * What waited to be sent when everything was exported belongs to the installation that waited with it: the one it is imported into sends none of it.
 * Run in the transaction of the import.
 */
export const NEVER_SENT: readonly string[] = [
  "UPDATE webhook_delivery SET state = 'failed', last_error = 'waited when everything was exported; not sent by the installation it was imported into' WHERE state IN ('waiting', 'quiet')",
  "UPDATE mail SET state = 'dropped', error = 'waited when everything was exported; not sent by the installation it was imported into' WHERE state = 'waiting'",
  'DELETE FROM notice WHERE mail_id IS NULL',
];
