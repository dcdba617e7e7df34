// Whose record a command notes things in.
#pragma once

#include "record/record.h"

#include <memory>
#include <optional>
#include <string>

namespace holdtrue::command_line {

struct RecordedTrainee {
    std::unique_ptr<record::Record> record; // null: none is open
    std::optional<record::Trainee> trainee;

    std::int64_t id() const { return trainee ? trainee->id : 0; }
};

// The trainee named with --trainee must be in the record; throws text::InputError. Nothing for an empty name.
RecordedTrainee named_trainee(const std::string& name);
// The trainee that a plan names, if the record knows one of that name. A record that is not there is not made.
RecordedTrainee trainee_of_plan(const std::string& name);

} // namespace holdtrue::command_line
