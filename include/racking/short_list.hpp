// A list that is short most of the time.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace racking {
inline namespace v1 {

/// A sequence of trivially copyable items that allocates only past `Inline` of them. A
/// value; iterators are plain pointers and last until the list changes.
template <class Item, std::size_t Inline = 4>
class ShortList {
 public:
  using value_type = Item;

  const Item* begin() const noexcept { return more_.empty() ? few_.data() : more_.data(); }
  const Item* end() const noexcept { return begin() + size_; }
  std::size_t size() const noexcept { return size_; }
  bool empty() const noexcept { return size_ == 0; }
  const Item& operator[](std::size_t at) const noexcept { return begin()[at]; }
  const Item& front() const noexcept { return *begin(); }
  const Item& back() const noexcept { return begin()[size_ - 1]; }

  void push_back(const Item& item) {
    if (size_ == Inline && more_.empty()) more_.assign(few_.begin(), few_.end());
    if (size_ >= Inline)
      more_.push_back(item);
    else
      few_[size_] = item;
    ++size_;
  }
  bool contains(const Item& item) const noexcept { return std::find(begin(), end(), item) != end(); }

  friend bool operator==(const ShortList& a, const ShortList& b) noexcept {
    return std::equal(a.begin(), a.end(), b.begin(), b.end());
  }

 private:
  std::array<Item, Inline> few_{};
  std::vector<Item> more_;
  std::uint32_t size_ = 0;
};

}  // namespace v1
}  // namespace racking
