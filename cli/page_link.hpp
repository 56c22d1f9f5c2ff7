#pragma once
/// What leads from a written page to the one page (cli/page.sh) with the same case.

#include <string>
#include <string_view>

namespace loadline::cli {

/// Base64 of bytes; `in_address`: with the letters that stand in one (RFC 4648, section 5),
/// unpadded.
std::string base64(std::string_view bytes, bool in_address);

/// The address of the one page where it lies beside `page`, with the case of `case_file` in it and
/// `question` asked. Empty where it does not, where the case is read from standard input, and where
/// it is too long for an address.
std::string link_to_change(const std::string& page, const std::string& case_file,
                           std::string_view question);

}  // namespace loadline::cli
