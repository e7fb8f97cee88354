-- For 0.11 and later: what `vim.lsp.enable('wythe')` starts. The root is the folder of the file: a project is one folder.
return {
  cmd = { vim.g.wythe_server or 'wythe-lsp' },
  filetypes = { 'wythe' },
  root_dir = function(buffer, start)
    local name = vim.api.nvim_buf_get_name(buffer)
    if not vim.startswith(name, 'wythe-std:') then
      start(vim.fn.fnamemodify(name, ':p:h'))
    end
  end,
  settings = { wythe = vim.g.wythe_settings or vim.empty_dict() },
  init_options = vim.g.wythe_settings or vim.empty_dict(),
}
