#include "command_line/trainee.h"

#include "text/input_error.h"

#include <filesystem>

namespace holdtrue::command_line {

RecordedTrainee named_trainee(const std::string& name) {
    RecordedTrainee found;
    if (name.empty())
        return found;
    found.record = std::make_unique<record::Record>();
    found.trainee = found.record->find_trainee(name);
    if (!found.trainee)
        throw text::InputError(found.record->path().string(), 0,
                               text::in_english("there is no trainee \"" + name + '"'),
                               text::in_english("add one with 'holdtrue record trainee add NAME'"));
    return found;
}

RecordedTrainee trainee_of_plan(const std::string& name) {
    RecordedTrainee found;
    if (name.empty() || !std::filesystem::exists(record::default_path()))
        return found;
    found.record = std::make_unique<record::Record>();
    found.trainee = found.record->find_trainee(name);
    return found;
}

} // namespace holdtrue::command_line
