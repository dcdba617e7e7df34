// The shape of the record, and how an older one is brought up to it. The version is SQLite's user_version; the
// application_id says whose file it is. Each step runs in one transaction, so that a record is always at a whole
// version, wherever the program was stopped.
#pragma once

#include "record/database.h"

namespace holdtrue::record {

int newest_version();
// Whose record it is and at which version; throws InputError when it is not ours or newer than this program.
int version_of(const Database& database);
// Brings an empty or older record up to `version`.
void migrate(const Database& database, int version = newest_version());
// Throws InputError when SQLite finds damage.
void check_integrity(const Database& database);

} // namespace holdtrue::record
