#include "text/failure.h"

#include "text/input_error.h"
#include "text/system_words.h"

#include <filesystem>
#include <new>

namespace holdtrue::text {

Sentence failure_words(const std::exception& error) {
    if (const auto* input = dynamic_cast<const InputError*>(&error))
        return all_told(input->problems());
    if (dynamic_cast<const std::bad_alloc*>(&error))
        return worded("there is not enough memory for it");
    if (const auto* file = dynamic_cast<const std::filesystem::filesystem_error*>(&error))
        return {worded("{0}: {1}"), {file->path1().string(), system_words(file->code())}};
    if (const auto* system = dynamic_cast<const std::system_error*>(&error))
        return system_words(system->code());
    return std::string(error.what());
}

} // namespace holdtrue::text
