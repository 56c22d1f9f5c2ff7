#pragma once
/// A function of one number, referred to and never kept.

#include <memory>
#include <type_traits>

namespace loadline {

/// Whatever can be called with a double and gives one: a lambda, say. It is not copied, so it must
/// live as long as the call that it is passed to; calling costs one jump.
class Function {
public:
    template <class F>
    requires(!std::is_same_v<std::remove_cvref_t<F>, Function> &&
             std::is_invocable_r_v<double, F&, double>) Function(F&& f)
        : object_(const_cast<void*>(static_cast<const void*>(std::addressof(f)))),
          call_([](void* object, double x) -> double {
              return (*static_cast<std::remove_reference_t<F>*>(object))(x);
          }) {}

    double operator()(double x) const { return call_(object_, x); }

private:
    void* object_;
    double (*call_)(void*, double);
};

}  // namespace loadline
