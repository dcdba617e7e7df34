#include "text/system_words.h"

namespace holdtrue::text {

Sentence system_words(const std::error_code& error) {
    const auto is = [&](auto... conditions) { return ((error == conditions) || ...); };
    if (is(std::errc::no_such_file_or_directory))
        return worded("there is no such file or folder");
    if (is(std::errc::permission_denied, std::errc::operation_not_permitted))
        return worded("you have no right to do that here");
    if (is(std::errc::no_space_on_device))
        return worded("the disk is full");
    if (is(std::errc::read_only_file_system))
        return worded("the disk can only be read");
    if (is(std::errc::is_a_directory))
        return worded("it is a folder");
    if (is(std::errc::not_a_directory))
        return worded("a part of the path is no folder");
    if (is(std::errc::file_exists, std::errc::directory_not_empty))
        return worded("something of this name is there already");
    if (is(std::errc::too_many_symbolic_link_levels))
        return worded("its links lead round in a circle");
    if (is(std::errc::filename_too_long))
        return worded("the name is too long");
    if (is(std::errc::io_error))
        return worded("the disk reports a fault");
    if (is(std::errc::device_or_resource_busy, std::errc::text_file_busy))
        return worded("another program is using it");
    if (is(std::errc::too_many_files_open, std::errc::too_many_files_open_in_system))
        return worded("too many files are open");
    return error.message();
}

} // namespace holdtrue::text
