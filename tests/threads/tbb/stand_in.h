// What provecut uses of oneTBB, made of std::thread. ThreadSanitizer does not see how Debian's libtbb hands work from
// thread to thread, since that library is not built for it, and would call every loop a race; a thread's start and end
// it does see. So its build takes these in place of the real headers, and looks for races in our own code alone.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <thread>
#include <utility>
#include <vector>

namespace tbb {

class global_control {
 public:
  enum parameter { max_allowed_parallelism };
  global_control(parameter, std::size_t threads) : before_(allowed.exchange(threads)) {}
  ~global_control() { allowed = before_; }
  global_control(const global_control&) = delete;
  global_control& operator=(const global_control&) = delete;

  static inline std::atomic<std::size_t> allowed = 4;

 private:
  std::size_t before_;
};

template <typename Value>
class blocked_range {
 public:
  blocked_range(Value begin, Value end, std::size_t grain = 1) : begin_(begin), end_(end), grain_(grain) {}
  Value begin() const { return begin_; }
  Value end() const { return end_; }
  std::size_t grainsize() const { return grain_; }

 private:
  Value begin_, end_;
  std::size_t grain_;
};

// An exception that leaves `body` ends the process: none is expected of provecut's loops.
template <typename Value, typename Body>
void parallel_for(const blocked_range<Value>& range, const Body& body) {
  if (!(range.begin() < range.end())) return;
  const std::size_t size = static_cast<std::size_t>(range.end() - range.begin());
  const std::size_t grain = std::max<std::size_t>(range.grainsize(), 1), pieces = (size + grain - 1) / grain;
  const std::size_t count = std::min(global_control::allowed.load(), pieces);
  // Every thread gets pieces, however soon the first is ready: two that meet are always on two threads.
  const auto work = [&](std::size_t thread) {
    for (std::size_t k = thread; k < pieces; k += count) {
      const Value from = range.begin() + static_cast<Value>(k * grain);
      body(blocked_range<Value>(from, k + 1 == pieces ? range.end() : from + static_cast<Value>(grain), grain));
    }
  };
  std::vector<std::thread> threads;
  for (std::size_t k = 1; k < count; ++k) threads.emplace_back(work, k);
  work(0);
  for (std::thread& thread : threads) thread.join();
}

template <typename Index, typename Body>
void parallel_for(Index first, Index last, const Body& body) {
  parallel_for(blocked_range<Index>(first, last), [&](const blocked_range<Index>& range) {
    for (Index i = range.begin(); i < range.end(); ++i) body(i);
  });
}

template <typename Iterator>
void parallel_sort(Iterator begin, Iterator end) {
  std::sort(begin, end);
}

namespace this_task_arena {

// Threads that wait take no other work here.
template <typename Task>
void isolate(const Task& task) {
  task();
}

}  // namespace this_task_arena

class task_group {
 public:
  task_group() = default;
  ~task_group() { wait(); }
  task_group(const task_group&) = delete;
  task_group& operator=(const task_group&) = delete;

  template <typename Task>
  void run(Task task) {
    threads_.emplace_back(std::move(task));
  }
  void wait() {
    for (std::thread& thread : threads_) thread.join();
    threads_.clear();
  }

 private:
  std::vector<std::thread> threads_;
};

template <typename... Tasks>
void parallel_invoke(const Tasks&... tasks) {
  task_group group;
  (group.run(tasks), ...);
}

}  // namespace tbb
