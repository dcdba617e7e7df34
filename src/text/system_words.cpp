#include "text/system_words.h"

#include <algorithm>
#include <array>

namespace holdtrue::text {

namespace {

struct Words {
    std::errc error;
    Wording told;
};
constexpr std::array known{
    Words{std::errc::no_such_file_or_directory, worded("there is no such file or folder")},
    Words{std::errc::permission_denied, worded("you have no right to do that here")},
    Words{std::errc::operation_not_permitted, worded("you have no right to do that here")},
    Words{std::errc::no_space_on_device, worded("the disk is full")},
    Words{std::errc::read_only_file_system, worded("the disk can only be read")},
    Words{std::errc::is_a_directory, worded("it is a folder")},
    Words{std::errc::not_a_directory, worded("a part of the path is no folder")},
    Words{std::errc::file_exists, worded("something of this name is there already")},
    Words{std::errc::directory_not_empty, worded("something of this name is there already")},
    Words{std::errc::too_many_symbolic_link_levels, worded("its links lead round in a circle")},
    Words{std::errc::filename_too_long, worded("the name is too long")},
    Words{std::errc::io_error, worded("the disk reports a fault")},
    Words{std::errc::device_or_resource_busy, worded("another program is using it")},
    Words{std::errc::text_file_busy, worded("another program is using it")},
    Words{std::errc::too_many_files_open, worded("too many files are open")},
    Words{std::errc::too_many_files_open_in_system, worded("too many files are open")},
};

} // namespace

Sentence system_words(const std::error_code& error) {
    const auto found = std::ranges::find_if(known, [&](const Words& words) { return error == words.error; });
    return found != known.end() ? Sentence(found->told) : Sentence(error.message());
}

} // namespace holdtrue::text
