// What Debian has of fmt and toml++ as shared libraries alone, compiled once more for the program
// without them.
#define TOML_IMPLEMENTATION
#include <fmt/format-inl.h>
#include <toml++/toml.h>

// The templates that fmt's headers leave to its library.
FMT_BEGIN_NAMESPACE
namespace detail {
template FMT_API auto dragonbox::to_decimal(float) noexcept -> dragonbox::decimal_fp<float>;
template FMT_API auto dragonbox::to_decimal(double) noexcept -> dragonbox::decimal_fp<double>;
template FMT_API locale_ref::locale_ref(const std::locale&);
template FMT_API auto locale_ref::get<std::locale>() const -> std::locale;
template FMT_API auto thousands_sep_impl(locale_ref) -> thousands_sep_result<char>;
template FMT_API auto decimal_point_impl(locale_ref) -> char;
template FMT_API void buffer<char>::append(const char*, const char*);
template FMT_API void vformat_to(buffer<char>&, string_view, format_args, locale_ref);
}  // namespace detail
FMT_END_NAMESPACE
